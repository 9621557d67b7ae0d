// SPDX-License-Identifier: Apache-2.0
// What the pad says, in numbers and in words.

import type { Tilted } from "../protocol";
import { shown } from "../shown";
import { waitWords } from "../view/use_scene";
import { type Accel, climbs, limitToward, motionWords, sizeOf } from "../view/pad";
import type { Mode } from "../view/tilting";
import type { PanHold } from "./answer";

export const gText = (g: number): string => `${g.toFixed(2)} g`;

/** `left turn 0.80 g: the oil climbs the right wall` */
export function accelWords(a: Accel): string {
  const wall = climbs(a);
  if (!wall) return `Here the car is ${motionWords(a)}.`;
  return `${motionWords(a)} ${gText(sizeOf(a))}: the oil climbs ${wall}.`;
}

/** A ring under the surface's line, or over it. */
function CoverSign({ covered }: { covered: boolean }) {
  return (
    <svg class={covered ? "cover-sign" : "cover-sign air"} viewBox="0 0 40 40" aria-hidden="true">
      <path class="cover-oil" d={`M2 ${covered ? 14 : 26}q6-5 12 0t12 0t12 0V38H2z`} />
      <path d={`M2 ${covered ? 14 : 26}q6-5 12 0t12 0t12 0`} />
      <circle cx="20" cy={covered ? 26 : 12} r="7" />
      {!covered && <path d="M15.5 7.5l9 9m0-9l-9 9" />}
    </svg>
  );
}

function Cover({ answer }: { answer: Tilted }) {
  if (answer.cover_m === null || answer.covered === null) {
    return <p class="quiet">Without a pickup in the job there is nothing to cover: type one under 00 Numbers.</p>;
  }
  const { covered, cover_m, drawdown_m } = answer;
  return (
    <div class="cover">
      <CoverSign covered={covered} />
      <div>
        <strong class={covered ? "" : "is-air"}>{covered ? "Pickup covered" : "Pickup uncovered"}</strong>
        <span class="figure">
          {shown(Math.abs(cover_m), "length")} {covered ? "to spare" : "short"}
        </span>
        <span class="quiet">the draw-down of {shown(drawdown_m, "length")} is taken off</span>
      </div>
    </div>
  );
}

export function Readout(props: { at: Accel; answer: Tilted | null; hold: PanHold | null; mode: Mode }) {
  const { at, answer, hold, mode } = props;
  const here = hold && mode === "settled" ? limitToward(hold.directions_deg, hold.limit_g, at) : null;
  const stock = here !== null && hold?.stock ? limitToward(hold.stock.directions_deg, hold.stock.limit_g, at) : null;
  return (
    <div class="readout">
      <p class="readout-words">{accelWords(at)}</p>
      {answer?.problem && <p class="problem">{answer.problem}</p>}
      {answer && !answer.problem && <Cover answer={answer} />}
      {!answer && <p class="quiet">{waitWords("Filling the pan…")}</p>}
      {here !== null && (
        <p class="quiet">
          This way it holds to about {gText(here)}
          {stock !== null && `, the stock pan to ${gText(stock)}`}.
        </p>
      )}
    </div>
  );
}
