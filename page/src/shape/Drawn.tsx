// SPDX-License-Identifier: Apache-2.0
// The pan as the numbers draw it.

import { goTo } from "../numbers/goal";
import { shown } from "../shown";
import type { ShapeAnswer } from "./answer";
import { mass, size } from "./made";
import { Fetch, Findings, Picture, Study } from "./Study";

export function Drawn() {
  return (
    <section>
      <h2>The pan drawn from numbers</h2>
      <p class="tools on-screen">
        <button onClick={() => goTo("new.shape")}>Its numbers</button>
        <span class="quiet">under 00 Numbers: zones, depths, radii, wall, bosses</span>
      </p>
      <Study<ShapeAnswer> question="shape" words="Draw the pan" doing="Drawing the pan" again="Draw it anew" takes="Takes some seconds.">
        {(pan, work) => (
          <>
            <Figures pan={pan} />
            <Picture work={work} file="shape/shape.svg" says="The pan from above and in section, with its zones" />
            <Zones pan={pan} />
            <Findings findings={pan.findings} />
            <h3>To fetch</h3>
            <Fetch work={work} />
          </>
        )}
      </Study>
    </section>
  );
}

function Figures({ pan }: { pan: ShapeAnswer }) {
  const box = pan.high_m.map((high, k) => high - pan.low_m[k]!);
  return (
    <>
      <p>
        <b class="figure">{shown(pan.holds_m3, "volume")}</b> inside, <b class="figure">{mass(pan.mass_kg)}</b> of {pan.material}
      </p>
      <dl class="facts">
        <dt>Wall, floor, flange</dt>
        <dd>
          {[pan.wall_m, pan.floor_m, pan.flange_m].map((t) => shown(t, "length")).join(", ")}
        </dd>
        <dt>Outside</dt>
        <dd>{size(box)}</dd>
        <dt>Flange</dt>
        <dd>
          {shown(pan.edge_m, "length")} round, {pan.holes} holes
        </dd>
        <dt>Lowest point</dt>
        <dd>
          {shown(-pan.low_m[2], "length")} below the rail
          {pan.ground_m !== null && `, ${shown(pan.ground_m, "length")} over the ground`}
          {pan.guard_over_m !== null && `; ${guardText(pan)}`}
        </dd>
      </dl>
    </>
  );
}

function guardText({ guard, guard_over_m }: ShapeAnswer): string {
  const over = guard_over_m ?? 0;
  return `the ${guard} lies ${shown(Math.abs(over), "length")} ${over > 0 ? "above it and guards nothing" : "below it"}`;
}

function Zones({ pan }: { pan: ShapeAnswer }) {
  return (
    <>
      <h3>Zones{pan.bosses.length > 0 && " and bosses"}</h3>
      <div class="scroll" tabIndex={0} role="region" aria-label="Zones of the pan">
        <table>
          <thead>
            <tr>
              <th>Zone</th>
              <th class="num">Top below the rail</th>
              <th class="num">Deepest</th>
              <th class="num">Corner radius</th>
              <th class="num">Floor radius</th>
            </tr>
          </thead>
          <tbody>
            {pan.zones.map((zone) => (
              <tr key={zone.name}>
                <th scope="row">{zone.name}</th>
                <td class="num">{zone.top_m > 0 ? shown(zone.top_m, "length") : "open"}</td>
                <td class="num">{shown(zone.deepest_m, "length")}</td>
                <td class="num">{shown(zone.corner_m, "length")}</td>
                <td class="num">{shown(zone.floor_radius_m, "length")}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {pan.bosses.length > 0 && (
        <ul>
          {pan.bosses.map((boss) => (
            <li key={boss.name}>
              {boss.name}: {boss.kind}, {boss.thread || "plain"}, bore {shown(boss.bore_m, "length")}, at{" "}
              {boss.at_m.map((v) => shown(v, "length")).join(", ")}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
