// SPDX-License-Identifier: Apache-2.0
// Room round the pan: every obstacle over all that the engine does, the ground, the guard.

import { Mark } from "../shell/Mark";
import { shown } from "../shown";
import { ledger } from "../state";
import { PanView } from "../view/PanView";
import type { Clearance, ObstacleGap } from "./answer";
import { Ground } from "./Ground";

const gapText = (gap: number): string =>
  gap < 0 ? `overlaps by ${shown(-gap, "length")}` : shown(gap, "length");

/** `clearance.steering-rack` is of the steering rack. */
const lineOf = (obstacle: string) =>
  ledger.value.find((l) => l.id === `clearance.${obstacle.toLowerCase().replace(/[^a-z0-9]+/g, "-")}`);

export function Room({ room }: { room: Clearance | null }) {
  if (!room)
    return <p class="note">There is nothing round the pan yet: its outside, the pose in the car and the obstacles, under 00 Numbers, give the gaps.</p>;
  return (
    <>
      <div class="on-screen">
        <PanView of="pan" colour="clearance" label="The pan, coloured by its room to the obstacles" />
      </div>
      {room.obstacles.length > 0 && <Gaps room={room} />}
      <Ground room={room} />
    </>
  );
}

function Gaps({ room }: { room: Clearance }) {
  const stock = new Map(room.stock?.obstacles.map((o) => [o.obstacle, o]));
  const most = Math.max(...room.obstacles.map((o) => Math.max(o.worst.gap_m, o.needed_m ?? 0)), 0.001);
  return (
    <>
      <h3>Least gap to each obstacle, over all that the engine does</h3>
      <ul class="gaps">
        {room.obstacles.map((o) => (
          <Gap gap={o} stock={stock.get(o.obstacle)} most={most} key={o.obstacle} />
        ))}
      </ul>
      {(room.obstacles[0]?.cases.length ?? 0) > 1 && <Cases room={room} />}
    </>
  );
}

function Gap({ gap, stock, most }: { gap: ObstacleGap; stock: ObstacleGap | undefined; most: number }) {
  const share = (size: number): string => `${(100 * Math.max(size, 0)) / (1.08 * most)}%`;
  const stand = lineOf(gap.obstacle)?.state ?? "not judged";
  return (
    <li class={stand === "not met" ? "not-met" : ""}>
      <Mark stand={stand} />
      <span class="gap-words">
        {gap.obstacle}: <b>{gapText(gap.worst.gap_m)}</b>
        {gap.needed_m !== null && <> of {shown(gap.needed_m, "length")} asked for</>}{" "}
        <span class="quiet">
          worst {gap.worst.case === "at rest" ? "" : "under "}
          {gap.worst.case}
          {stock && `; stock ${gapText(stock.worst.gap_m)}`}
        </span>
      </span>
      <span class="gap-bar" aria-hidden="true">
        <span class="gap-size" style={{ width: share(gap.worst.gap_m) }} />
        {gap.needed_m !== null && <span class="gap-needed" style={{ left: share(gap.needed_m) }} />}
      </span>
    </li>
  );
}

function Cases({ room }: { room: Clearance }) {
  const cases = room.obstacles[0]!.cases.map((c) => c.case);
  return (
    <details class="fold">
      <summary>Every engine position</summary>
      <div class="scroll" tabIndex={0} role="region" aria-label="Gaps in every engine position">
        <table>
          <thead>
            <tr>
              <th scope="col">Engine position</th>
              {room.obstacles.map((o) => (
                <th scope="col" class="num" key={o.obstacle}>
                  {o.obstacle}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {cases.map((name, k) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                {room.obstacles.map((o) => (
                  <td class="num" key={o.obstacle}>
                    {o.cases[k]?.case === o.worst.case ? <b>{gapText(o.cases[k]!.gap_m)}</b> : gapText(o.cases[k]!.gap_m)}
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
