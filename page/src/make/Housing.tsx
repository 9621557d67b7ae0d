// SPDX-License-Identifier: Apache-2.0
// The pickup housing: the oil's way through it, its room, what it is made of.

import { Fetch, Findings, Picture, Quick, Verdict } from "../shape/Study";
import { area, fine, mass } from "../shape/made";
import { shown } from "../shown";
import type { HousingAnswer } from "./answer";

export function Housing() {
  return (
    <section>
      <h2>Pickup housing</h2>
      <Quick<HousingAnswer> question="housing" words="Build the housing" doing="Building the housing" again="Build it anew">
        {(housing, work) => (
          <>
            <Verdict stand={housing.verdict}>
              {housing.verdict === "met" ? "it can stand there" : "it strikes what stands round it"}
            </Verdict>
            <div class="two">
              <Figures housing={housing} />
              <Way housing={housing} />
            </div>
            <Room housing={housing} />
            <Picture work={work} file="housing/housing.svg" says="The pickup housing from above and in section" />
            <Parts housing={housing} />
            <Findings findings={housing.findings} />
            <Fetch work={work} only={(file) => file.endsWith(".step")} />
          </>
        )}
      </Quick>
    </section>
  );
}

function Figures({ housing }: { housing: HousingAnswer }) {
  const { bolting } = housing;
  return (
    <dl class="facts">
      <dt>Inlet over the floor</dt>
      <dd>{shown(housing.over_floor_m, "length")}</dd>
      <dt>Oil over the rim</dt>
      <dd>{housing.low_cover_m === null ? "low mark not known" : `${shown(housing.low_cover_m, "length")} at the low mark, hot`}</dd>
      <dt>Height</dt>
      <dd>
        {shown(housing.height_m, "length")}, {housing.low_profile.toFixed(2)} of a round inlet's diameter
      </dd>
      <dt>Takes of the oil's room</dt>
      <dd>{shown(housing.displaced_m3, "volume")}</dd>
      {housing.screen.map((point) => (
        <>
          <dt key={point.state}>Screen, {point.state}</dt>
          <dd>
            {shown(point.loss_pa, "inlet_pressure")} at {point.rpm.toFixed(0)} rpm, {shown(point.temperature_k, "temperature")}
          </dd>
        </>
      ))}
      {bolting && (
        <>
          <dt>Flange bolts</dt>
          <dd>
            {bolting.count} × {bolting.thread} × {shown(bolting.length_m, "length")}, {fine(bolting.engagement_m)} in the thread (
            {bolting.ratio.toFixed(1)} diameters)
          </dd>
        </>
      )}
    </dl>
  );
}

function Way({ housing }: { housing: HousingAnswer }) {
  const ways: [string, number | null][] = [
    ["tube's bore", housing.tube_m2],
    ["rim to floor", housing.curtain_m2],
    ["inlet and screen", housing.face_m2],
    ["of that open", housing.open_m2],
    ["inside, to the tube", housing.inside_m2],
  ];
  return (
    <table>
      <thead>
        <tr>
          <th>The oil's way</th>
          <th class="num">Area</th>
          <th class="num">Of the bore</th>
        </tr>
      </thead>
      <tbody>
        {ways.map(
          ([words, square]) =>
            square !== null && (
              <tr key={words}>
                <th scope="row">{words}</th>
                <td class="num">{area(square)}</td>
                <td class="num">{(square / housing.tube_m2).toFixed(1)}</td>
              </tr>
            ),
        )}
      </tbody>
    </table>
  );
}

function Room({ housing }: { housing: HousingAnswer }) {
  const struck = housing.room.filter((one) => one.shared_m3 > 0);
  const near = housing.room.filter((one) => one.gap_m !== null && one.shared_m3 === 0);
  return (
    <ul>
      {struck.map((one) => (
        <li key={one.what} class="made-row">
          strikes {one.what}
        </li>
      ))}
      {near.map((one) => (
        <li key={one.what}>
          {shown(one.gap_m, "length")} from {one.what}
        </li>
      ))}
    </ul>
  );
}

function Parts({ housing }: { housing: HousingAnswer }) {
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label="Parts of the housing">
      <table>
        <thead>
          <tr>
            <th>Part</th>
            <th class="num">Count</th>
            <th>How</th>
            <th class="num">Mass</th>
            <th>From</th>
          </tr>
        </thead>
        <tbody>
          {housing.made.map((part) => (
            <tr key={part.key}>
              <th scope="row">{part.name}</th>
              <td class="num">{part.count}</td>
              <td class="how">{part.how}</td>
              <td class="num">{mass(part.mass)}</td>
              <td>{[part.material, part.stock, part.note].filter(Boolean).join("; ")}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
