// SPDX-License-Identifier: Apache-2.0
// The bolt pattern, and every measurement of it laid over the design.

import { shown } from "../shown";
import type { MeasuredFit, RailAnswer } from "./answer";
import { fine } from "./made";
import { Lines, Picture, Quick, Verdict } from "./Study";

export function Rail() {
  return (
    <section>
      <h2>The rail</h2>
      <Quick<RailAnswer> question="rail" words="Judge the bolt pattern" doing="Laying the holes over one another" again="Judge it anew">
        {(rail, work) => (
          <>
            <Verdict stand={rail.verdict}>{rail.summary}</Verdict>
            <Picture work={work} file="rail/rail.svg" says="The flange with its bolt holes, and where each was measured" />
            {rail.sets.map((set) => (
              <Measured set={set} key={set.name} />
            ))}
            <Holes rail={rail} />
            {rail.cautions.map((said) => (
              <p class="note" key={said}>
                {said}
              </p>
            ))}
          </>
        )}
      </Quick>
    </section>
  );
}

const STATES = { fits: "fits", tight: "fits only a true hole", strikes: "the bolt strikes" };

function Measured({ set }: { set: MeasuredFit }) {
  return (
    <details class="fold" open={set.state !== "fits"}>
      <summary>
        {set.name}: {STATES[set.state]}, at worst {fine(set.worst_m)} off at hole {set.worst}
      </summary>
      <p>
        {fine(set.rms_m)} rms over {set.holes.length} holes
        {set.scale.told && `; scale ${set.scale.scale.toFixed(4)} of the design, ${fine(set.scale.rms_m)} rms with that put right`}.
      </p>
      <div class="scroll" tabIndex={0} role="region" aria-label={`Holes of ${set.name}`}>
        <table>
          <thead>
            <tr>
              <th>Hole</th>
              <th class="num">Ahead</th>
              <th class="num">To the left</th>
              <th class="num">Off by</th>
              <th class="num">May be</th>
              <th class="num">At most</th>
              <th>It</th>
            </tr>
          </thead>
          <tbody>
            {set.holes.map((hole) => (
              <tr key={hole.name} class={hole.state === "strikes" ? "made-row" : ""}>
                <th scope="row">{hole.name}</th>
                <td class="num">{fine(hole.off_m[0], true)}</td>
                <td class="num">{fine(hole.off_m[1], true)}</td>
                <td class="num">{fine(hole.distance_m)}</td>
                <td class="num">{fine(hole.allowed_m)}</td>
                <td class="num">{fine(hole.most_m)}</td>
                <td>{STATES[hole.state]}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p class="quiet">May be: with the pan's own tolerance used up. At most: with the pan's hole where it is drawn.</p>
      <Lines words="Not measured" said={set.missing.length ? [`Holes ${set.missing.join(", ")}`] : []} />
    </details>
  );
}

function Holes({ rail }: { rail: RailAnswer }) {
  const { growth } = rail;
  return (
    <details class="fold">
      <summary>
        All {rail.holes.length} holes, {rail.thread}, {rail.fit} series
      </summary>
      <p>
        Heated by {growth.rise_k.toFixed(0)} K, {growth.pan} grows {fine(growth.growth_m)} more than {growth.block} from hole{" "}
        {growth.between[0]} to {growth.between[1]}, {shown(growth.longest_m, "length")} apart.
      </p>
      <div class="scroll" tabIndex={0} role="region" aria-label="All holes">
        <table>
          <thead>
            <tr>
              <th>Hole</th>
              <th class="num">x</th>
              <th class="num">y</th>
              <th class="num">Diameter</th>
              <th class="num">Left, cold</th>
              <th class="num">Moves, hot</th>
              <th class="num">Left, hot</th>
            </tr>
          </thead>
          <tbody>
            {rail.holes.map((hole) => (
              <tr key={hole.name}>
                <th scope="row">{hole.name}</th>
                <td class="num">{shown(hole.at_m[0], "length")}</td>
                <td class="num">{shown(hole.at_m[1], "length")}</td>
                <td class="num">{shown(hole.diameter_m, "length")}</td>
                <td class="num">{fine(hole.left_m)}</td>
                <td class="num">{fine(hole.grows_m)}</td>
                <td class="num">{fine(hole.left_hot_m)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}
