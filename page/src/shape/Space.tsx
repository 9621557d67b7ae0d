// SPDX-License-Identifier: Apache-2.0
// The free space below the rail: what it says, where it is, kick-outs, what takes most.

import { shown } from "../shown";
import { answered } from "../state";
import type { Side, SpaceAnswer } from "./answer";
import { args, askedWords, ofSpace } from "./asked";
import { SpaceAsk } from "./SpaceAsk";
import { SpaceView } from "./SpaceView";
import { Fetch, Findings, Lines, Picture, Verdict } from "./Study";

const SIDES: readonly [Side, string][] = [
  ["both", "Left and right"],
  ["left", "Left"],
  ["right", "Right"],
  ["front", "Front"],
  ["rear", "Rear"],
];

/** For what is typed, else the last that there is. */
function foundNow() {
  const here = answered<SpaceAnswer>("space", args.value);
  if (here) return here;
  const done = ofSpace.value.map((w) => answered<SpaceAnswer>("space", w.args)).filter((a) => a !== null);
  return done.at(-1) ?? null;
}

export function Space() {
  const found = foundNow();
  return (
    <section>
      <h2>Where there is room for more</h2>
      <p>The largest space below the rail that can be made and keeps every clearance, however the engine moves.</p>
      <SpaceAsk />
      {found && <Found {...found} />}
    </section>
  );
}

function Found({ answer: space, stale, work }: NonNullable<ReturnType<typeof foundNow>>) {
  const [asked, typed] = [askedWords(work.args), askedWords(args.value)];
  return (
    <>
      {stale && <p class="note">These figures are for the numbers before the last change.</p>}
      {asked !== typed && <p class="note">These figures are for what was asked before: {asked || "nothing typed"}.</p>}
      <Verdict stand={space.verdict}>{space.summary}</Verdict>
      {asked && asked === typed && <p class="quiet">Asked with {asked}.</p>}
      <ul>
        {space.sentences.map((said) => (
          <li key={said}>{said}</li>
        ))}
      </ul>
      <SpaceView space={space} work={work} />
      <KickOuts space={space} />
      <Taken space={space} />
      <Picture work={work} file="space/free-space.svg" says="The free space from above and from the side, with what limits it" />
      <Findings findings={space.findings} />
      <Lines words="What this rests on" said={space.assumptions} />
      <h3>To fetch</h3>
      <Fetch work={work} />
    </>
  );
}

function KickOuts({ space }: { space: SpaceAnswer }) {
  const { table } = space;
  return (
    <>
      <h3>What kick-outs bring</h3>
      <p class="quiet">Litres down to {shown(space.deepest_m, "length")} below the rail, by how far the pan goes beyond the opening.</p>
      <div class="scroll" tabIndex={0} role="region" aria-label="Litres by kick-out">
        <table>
          <thead>
            <tr>
              <th class="num">Beyond</th>
              {SIDES.map(([side, words]) => (
                <th class="num" key={side}>
                  {words}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.growths_m.map((growth, k) => (
              <tr key={growth}>
                <th scope="row" class="num">
                  {shown(growth, "length")}
                </th>
                {SIDES.map(([side]) => (
                  <td class="num" key={side}>
                    {shown(table.volumes_m3[side].at(-1)?.[k], "volume")}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <ByDepth space={space} />
    </>
  );
}

function ByDepth({ space: { table } }: { space: SpaceAnswer }) {
  return (
    <details class="fold">
      <summary>Left and right, by depth</summary>
      <div class="scroll" tabIndex={0} role="region" aria-label="Litres by depth and kick-out">
        <table>
          <thead>
            <tr>
              <th class="num">Depth</th>
              {table.growths_m.map((growth) => (
                <th class="num" key={growth}>
                  {shown(growth, "length")}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.depths_m.map((depth, row) => (
              <tr key={depth}>
                <th scope="row" class="num">
                  {shown(depth, "length")}
                </th>
                {table.volumes_m3.both[row]?.map((volume, k) => (
                  <td class="num" key={k}>
                    {shown(volume, "volume")}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}

function Taken({ space }: { space: SpaceAnswer }) {
  const most = [...space.taken].sort((a, b) => b.lost_m3 - a.lost_m3);
  return (
    <>
      <h3>What takes most</h3>
      <div class="scroll" tabIndex={0} role="region" aria-label="What each obstacle takes">
        <table>
          <thead>
            <tr>
              <th>Obstacle</th>
              <th class="num">Clearance</th>
              <th class="num">Takes alone</th>
              <th class="num">At rest</th>
              <th>Worst case</th>
            </tr>
          </thead>
          <tbody>
            {most.map((one) => (
              <tr key={one.obstacle}>
                <th scope="row">{one.obstacle}</th>
                <td class="num">{one.needed_m === null ? "off" : shown(one.needed_m, "length")}</td>
                <td class="num">{shown(one.lost_m3, "volume")}</td>
                <td class="num">{shown(one.at_rest_m3, "volume")}</td>
                <td>{one.lost_m3 > 0 ? `${one.worst_case}, ${shown(one.worst_m3, "volume")}` : "not in the way"}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <dl class="facts">
        {space.lowest.map((limit) => (
          <>
            <dt key={limit.name}>Over {limit.name}</dt>
            <dd>
              {shown(limit.height_m, "length")}
              {limit.binds && ", this one counts"}
            </dd>
          </>
        ))}
      </dl>
    </>
  );
}
