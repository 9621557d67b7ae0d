// SPDX-License-Identifier: Apache-2.0
// Two halves: where the pan is split, what they are cut from, what the cutters reach, the weld.

import { area, degrees, fine, hours, mass, money, size } from "../shape/made";
import { Fetch, Findings, Lines, Picture, Study, Verdict } from "../shape/Study";
import { shown } from "../shown";
import type { Half, HalvesAnswer } from "./answer";
import { Candidates } from "./Candidates";

export function Halves() {
  return (
    <section>
      <h2>Two halves</h2>
      <Study<HalvesAnswer>
        question="halves"
        words="Part the pan"
        doing="Parting the pan"
        again="Part it anew"
        takes="Takes half a minute or more; you can go on meanwhile."
      >
        {(halves, work) => (
          <>
            <Verdict stand={halves.verdict}>
              split at {shown(halves.height_m, "length")}, {halves.proposed ? "as proposed" : "as the job says"}
            </Verdict>
            {halves.lacks.map((said) => (
              <p class="problem" key={said}>
                {said}
              </p>
            ))}
            <Lines words="Ways out" said={halves.advice} />
            <p>{halves.why}</p>
            <Candidates halves={halves} />
            <Table halves={halves} />
            <Picture work={work} file="halves/reach.svg" says="Both halves, with the places that no cutter reaches" />
            <Unreached half={halves.upper} />
            <Unreached half={halves.lower} />
            <Weld halves={halves} />
            <Findings findings={halves.findings} />
            <Lines words="What this rests on" said={halves.assumptions} />
            <Fetch work={work} only={(file) => !file.endsWith(".svg")} />
          </>
        )}
      </Study>
    </section>
  );
}

function stockOf({ stock }: Half): string {
  if (stock.block && stock.block_m) return `${stock.block}, ${size(stock.block_m)}${stock.shared ? ", shared by both" : ""}`;
  return stock.buy_m ? `to be bought, at least ${size(stock.buy_m)}` : "–";
}

function machineOf({ machine }: Half): string {
  const how = machine.turned ? ", turned" : "";
  return `${size(machine.needed_m)} of ${size(machine.has_m)}${how}: ${machine.fits ? "fits" : "does not fit"}`;
}

function Table({ halves }: { halves: HalvesAnswer }) {
  const both = [halves.upper, halves.lower];
  const rows: [string, (half: Half) => string][] = [
    ["From", stockOf],
    ["Mass in", (half) => mass(half.stock.mass_in_kg)],
    ["Chips", (half) => mass(half.chips_kg)],
    ["Mass out", (half) => mass(half.mass_kg)],
    ["On the machine", machineOf],
    ["Out of the cutters' reach", (half) => area(half.reach.missed_m2)],
    ["Milling", (half) => hours(half.milling_s)],
    ["Stock and milling", (half) => money(half.cost, halves.currency)],
  ];
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label="Both halves">
      <table>
        <thead>
          <tr>
            <th />
            {both.map((half) => (
              <th key={half.name}>{half.name}</th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(([words, say]) => (
            <tr key={words}>
              <th scope="row">{words}</th>
              {both.map((half) => (
                <td key={half.name}>{say(half)}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Unreached({ half }: { half: Half }) {
  const { places, cutters } = half.reach;
  const alone = cutters.map((cutter) => `${cutter.name} alone: leaves ${area(cutter.missed_m2)}`);
  const missed = places.map(
    (p) => `${area(p.area_m2)}, ${p.cause}, about ${p.at_m.map((v) => shown(v, "length")).join(", ")}`,
  );
  return <Lines words={`Reach, ${half.name}`} said={[...missed, ...alone]} />;
}

function Weld({ halves: { joint, sealing, cautions, currency } }: { halves: HalvesAnswer }) {
  const lip = joint.lip_height_m !== null && [joint.lip_height_m, joint.lip_thickness_m, joint.lip_clearance_m].map((v) => fine(v));
  return (
    <>
      <h3>The weld</h3>
      <dl class="facts">
        <dt>Length</dt>
        <dd>
          {shown(joint.weld_m, "length")}, {mass(joint.deposit_kg)} of filler
          {joint.welding_s !== null && `; ${hours(joint.welding_s)}, ${money(joint.welding_cost, currency)}`}
        </dd>
        <dt>Groove</dt>
        <dd>
          {fine(joint.groove_depth_m)} deep, {degrees(joint.groove_angle)}, root face {fine(joint.root_face_m)}; wall at least{" "}
          {fine(joint.wall_least_m)}
        </dd>
        {lip && (
          <>
            <dt>Lip</dt>
            <dd>
              {lip[0]} high, {lip[1]} thick, {lip[2]} clear
            </dd>
          </>
        )}
        <dt>Torch</dt>
        <dd>
          {degrees(joint.cone)} free where it is least, {degrees(joint.cone_needed)} needed
          {joint.tight_m > 0 && `; less over ${shown(joint.tight_m, "length")}`}
        </dd>
        <dt>Oil over it</dt>
        <dd>{joint.oil_over_m === null ? "fill not known" : `${shown(joint.oil_over_m, "length")} at rest, hot, full`}</dd>
        <dt>Draws the flange by</dt>
        <dd>
          {fine(joint.draw_m[0])} to {fine(joint.draw_m[1])}; {fine(joint.skim_m)} left to skim
        </dd>
      </dl>
      <h3>Sealing faces, in this order</h3>
      <ol>
        {sealing.map((said) => (
          <li key={said}>{said}</li>
        ))}
      </ol>
      {cautions.map((said) => (
        <p class="caution" key={said}>
          {said}
        </p>
      ))}
    </>
  );
}
