// SPDX-License-Identifier: Apache-2.0
// The static limits each way: new beside stock, at the low mark, and what is asked for.

import type { Requirement } from "../protocol";
import { ledger } from "../state";
import { Mark } from "../shell/Mark";
import { shown } from "../shown";
import type { PanHold } from "./answer";
import { gText } from "./Readout";
import { WAYS } from "./Tilt";

/** Steepest ground that the study looks at; a limit there is "at least". */
const STEEPEST = 60;

const SLOPES = [
  { key: "slope_up_deg", word: "Nose uphill", rule: "slope_up" },
  { key: "slope_down_deg", word: "Nose downhill", rule: "slope_down" },
  { key: "slope_left_deg", word: "Left side uphill", rule: "slope_side" },
  { key: "slope_right_deg", word: "Right side uphill", rule: "slope_side" },
] as const;

type Way = (typeof WAYS)[number];

function turnText(hold: PanHold, { way, degrees }: Way): string {
  const near = hold.directions_deg.findIndex((d) => Math.abs(d - degrees) < 1e-6);
  return `${hold.held_to_end[near] ? "≥ " : ""}${gText(hold[`${way}_g`])}`;
}

/** The low mark was looked at as far as the full one. */
function lowText(hold: PanHold, g: number): string {
  const end = hold.magnitudes_g[hold.magnitudes_g.length - 1] ?? Infinity;
  return `${g >= end ? "≥ " : ""}${gText(g)}`;
}

const degreesText = (degrees: number): string => `${degrees >= STEEPEST - 1e-9 ? "≥ " : ""}${degrees.toFixed(1)}°`;

function State({ line }: { line: Requirement | undefined }) {
  if (!line) return <td />;
  return (
    <td>
      <span class={line.state === "not met" ? "stands not-met" : "stands"}>
        <Mark stand={line.state} />
        {line.state}
      </span>
    </td>
  );
}

const rule = (id: string): Requirement | undefined => ledger.value.find((line) => line.id === id);

function asked(line: Requirement | undefined, text: (value: number) => string): string {
  return line?.limit == null ? "–" : text(line.limit);
}

export function Limits({ hold }: { hold: PanHold }) {
  const { stock, low_mark: low } = hold;
  const none = (there: unknown) => (there ? <td /> : null);
  return (
    <>
      <h2>Limits, steady</h2>
      <p>
        With {shown(hold.oil_m3, "volume")} really in the pan, hot
        {hold.rpm === null ? "" : `, at ${hold.rpm.toFixed(0)} rpm`}: the largest steady acceleration, and the steepest ground, with
        the whole mouth under oil. Baffles and doors do not come into it.
      </p>
      <div class="scroll" tabIndex={0} role="region" aria-label="Static limits">
        <table class="limits">
          <thead>
            <tr>
              <th scope="col">Way</th>
              <th scope="col" class="num">
                {hold.name}
              </th>
              {stock && (
                <th scope="col" class="num">
                  {stock.name}
                </th>
              )}
              {low && (
                <th scope="col" class="num">
                  At the low mark
                </th>
              )}
              <th scope="col" class="num">
                Asked for
              </th>
              <th scope="col">Standing</th>
            </tr>
          </thead>
          <tbody>
            {WAYS.map((way) => {
              const line = rule(`hold_${way.way}`);
              return (
                <tr key={way.way} class={line?.state === "not met" ? "not-met" : ""}>
                  <th scope="row">{way.word}</th>
                  <td class="num">{turnText(hold, way)}</td>
                  {stock && <td class="num">{turnText(stock, way)}</td>}
                  {low && <td class="num">{lowText(hold, low[`${way.way}_g`])}</td>}
                  <td class="num">{asked(line, gText)}</td>
                  <State line={line} />
                </tr>
              );
            })}
            {SLOPES.map(({ key, word, rule: id }) => {
              const line = rule(id);
              return (
                <tr key={key} class={line?.state === "not met" ? "not-met" : ""}>
                  <th scope="row">{word}</th>
                  <td class="num">{degreesText(hold[key])}</td>
                  {stock && <td class="num">{degreesText(stock[key])}</td>}
                  {none(low)}
                  <td class="num">{asked(line, degreesText)}</td>
                  <State line={line} />
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </>
  );
}
