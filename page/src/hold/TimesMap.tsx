// SPDX-License-Identifier: Apache-2.0
// For how long the pickup stays covered, all round and up to what g: a round map, the car's nose up.

import { type Signal, useSignal } from "@preact/signals";
import { EDGE, motionWords, placeOf, sizeOf, toward } from "../view/pad";
import type { HoldMapAnswer } from "./answer";
import { gText } from "./Readout";

const DOORS: Record<string, string> = {
  working: "doors working",
  "stuck open": "doors stuck open",
  "stuck shut": "doors stuck shut",
  "no baffles": "without baffles",
};

/** Seconds between the bands: halves of the time asked for, and that time itself; as in the report. */
const bandEdges = (answer: HoldMapAnswer): number[] => [16, 8, 4, 2, 1].map((k) => answer.hold_time_s / k);

const bandOf = (time: number, edges: readonly number[]): number => edges.filter((edge) => time >= edge).length + 1;

const seconds = (s: number): string => `${s >= 1 ? s.toFixed(1) : s.toFixed(2)} s`;

interface Cell {
  degrees: number;
  g: number;
  /** null: covered to the end of the look */
  time: number | null;
  path: string;
}

function ringEdges(g: readonly number[]): number[] {
  const half = (a: number, b: number) => 0.5 * (a + b);
  const first = g[0] ?? 0, last = g[g.length - 1] ?? 1;
  const step = g.length > 1 ? last - (g[g.length - 2] ?? 0) : last;
  const inner = Math.max(0, first - 0.5 * ((g[1] ?? first + step) - first));
  return [inner, ...g.slice(1).map((b, k) => half(g[k] ?? 0, b)), last + 0.5 * step];
}

function cellPath(low: number, high: number, inner: number, outer: number, most: number): string {
  const at = (d: number, g: number) => {
    const { x, y } = placeOf(toward(d, g), most);
    return `${x.toFixed(2)} ${y.toFixed(2)}`;
  };
  const r = (g: number) => ((EDGE * g) / most).toFixed(2);
  // the angle grows to the left: against the clock
  return `M${at(low, outer)}A${r(outer)} ${r(outer)} 0 0 0 ${at(high, outer)}L${at(high, inner)}A${r(inner)} ${r(inner)} 0 0 1 ${at(low, inner)}Z`;
}

function cellsOf(answer: HoldMapAnswer, doors: string, speed: number): { cells: Cell[]; most: number } {
  const field = answer.maps.find((map) => map.doors === doors)?.time_s[speed] ?? [];
  const edges = ringEdges(answer.magnitudes_g);
  const most = edges[edges.length - 1] ?? 1;
  const directions = answer.directions_deg;
  const step = 360 / Math.max(1, directions.length);
  const cells = field.flatMap((row, d) =>
    row.map((time, k) => {
      const degrees = directions[d] ?? 0;
      const path = cellPath(degrees - step / 2, degrees + step / 2, edges[k] ?? 0, edges[k + 1] ?? 1, most);
      return { degrees, g: answer.magnitudes_g[k] ?? 0, time, path };
    }),
  );
  return { cells, most };
}

function cellWords(cell: Cell, horizon: number): string {
  const a = toward(cell.degrees, cell.g);
  const how = cell.time === null ? `covered as long as was looked, ${seconds(horizon)}` : `air after ${seconds(cell.time)}`;
  return `${motionWords(a)} ${gText(sizeOf(a))}: ${how}`;
}

function Legend({ answer }: { answer: HoldMapAnswer }) {
  const edges = bandEdges(answer);
  const words = [
    `under ${seconds(edges[0] ?? 0)}`,
    ...edges.slice(1).map((edge, k) => `${seconds(edges[k] ?? 0)} to ${seconds(edge)}`),
    `over ${seconds(edges[edges.length - 1] ?? 0)}, the time asked for`,
  ];
  return (
    <ul class="times-legend">
      {words.map((word, k) => (
        <li key={word}>
          <span class={`swatch t-${k + 1}`} aria-hidden="true" />
          {word}
        </li>
      ))}
      <li>
        <span class="swatch t-never" aria-hidden="true" />
        covered to the end of the look, {seconds(answer.horizon_s)}
      </li>
    </ul>
  );
}

function Round({ answer, doors, speed, over }: { answer: HoldMapAnswer; doors: string; speed: number; over: Signal<string> }) {
  const { cells, most } = cellsOf(answer, doors, speed);
  const edges = bandEdges(answer);
  const rings = [0.5, 1, 1.5].filter((g) => g <= most);
  return (
    <svg class="times" viewBox="-124 -124 248 248" role="img" aria-label={`Time to first air, ${DOORS[doors]}. The table beside it has the limits.`}>
      <defs>
        <pattern id="times-never" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect class="never" width="7" height="7" />
          <line x1="0" y1="0" x2="0" y2="7" />
        </pattern>
      </defs>
      {cells.map((cell) => (
        <path
          key={`${cell.degrees} ${cell.g}`}
          class={cell.time === null ? "cell never" : `cell t-${bandOf(cell.time, edges)}`}
          d={cell.path}
          onPointerEnter={() => (over.value = cellWords(cell, answer.horizon_s))}
        />
      ))}
      {rings.map((g) => (
        <g key={g} class="times-ring">
          <circle r={(EDGE * g) / most} />
          <text x={(EDGE * g * 0.707) / most} y={(EDGE * g * 0.707) / most + 3}>
            {g.toFixed(1)} g
          </text>
        </g>
      ))}
      <g class="pad-words">
        <text y={-EDGE - 8}>accelerating</text>
        <text y={EDGE + 17}>braking</text>
        <text transform="rotate(-90)" y={-EDGE - 8}>
          left turn
        </text>
        <text transform="rotate(90)" y={-EDGE - 8}>
          right turn
        </text>
      </g>
    </svg>
  );
}

const WAYS = ["left", "right", "brake", "accelerate"] as const;

function MapLimits({ answer, speed }: { answer: HoldMapAnswer; speed: number }) {
  const end = answer.magnitudes_g[answer.magnitudes_g.length - 1] ?? 0;
  const rows = answer.limits.filter((limit) => limit.rpm === answer.rpm[speed]);
  const text = (g: number) => (g <= 0 ? "none looked at" : `${g >= end ? "≥ " : ""}${gText(g)}`);
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label="Held in motion">
      <table>
        <caption>Held for {seconds(answer.hold_time_s)} from a settled start</caption>
        <thead>
          <tr>
            <th scope="col">Doors</th>
            {["Left turn", "Right turn", "Braking", "Accelerating"].map((word) => (
              <th scope="col" class="num" key={word}>
                {word}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.doors}>
              <th scope="row">{DOORS[row.doors] ?? row.doors}</th>
              {WAYS.map((way) => (
                <td class="num" key={way}>
                  {text(row[`${way}_g`])}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

export function TimesMap({ answer }: { answer: HoldMapAnswer }) {
  const doors = useSignal(answer.maps[0]?.doors ?? "working");
  const speed = useSignal(answer.rpm.length - 1);
  const over = useSignal("");
  return (
    <>
      <div class="tools on-screen">
        <label class="pick">
          Doors
          <select value={doors.value} onChange={(event) => (doors.value = event.currentTarget.value)}>
            {answer.maps.map((map) => (
              <option key={map.doors} value={map.doors}>
                {DOORS[map.doors] ?? map.doors}
              </option>
            ))}
          </select>
        </label>
        <label class="pick">
          Engine
          <select value={speed.value} onChange={(event) => (speed.value = Number(event.currentTarget.value))}>
            {answer.rpm.map((rpm, k) => (
              <option key={rpm} value={k}>
                {rpm.toFixed(0)} rpm
              </option>
            ))}
          </select>
        </label>
      </div>
      <div class="two">
        <div>
          <Round answer={answer} doors={doors.value} speed={speed.value} over={over} />
          <p class="times-over">{over.value || "Point at a place of the map to read it."}</p>
        </div>
        <div>
          <Legend answer={answer} />
          <MapLimits answer={answer} speed={speed.value} />
        </div>
      </div>
    </>
  );
}
