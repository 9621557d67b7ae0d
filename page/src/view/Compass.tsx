// SPDX-License-Identifier: Apache-2.0
// Which way the car points, in the corner of the view, so that nobody mixes up its sides.

import type { ReadonlySignal } from "@preact/signals";
import type { Axis, Seen } from "./view3d";

const REACH = 34;
const AXES: readonly [Axis, string][] = [
  ["x", "front"],
  ["y", "left"],
  ["z", "up"],
];

export function Compass({ seen }: { seen: ReadonlySignal<Seen | null> }) {
  const axes = seen.value?.axes;
  if (!axes) return null;
  return (
    <svg class="pan-compass" viewBox="-60 -56 120 112" aria-hidden="true">
      {AXES.map(([axis, word]) => {
        const { x, y, away } = axes[axis];
        const size = Math.hypot(x, y);
        if (size < 0.16) return null;
        const [tx, ty] = [REACH * x, REACH * y];
        const [ux, uy] = [x / size, y / size];
        const head = `${tx},${ty} ${tx - 8 * ux - 4 * uy},${ty - 8 * uy + 4 * ux} ${tx - 8 * ux + 4 * uy},${ty - 8 * uy - 4 * ux}`;
        return (
          <g key={axis} class={away ? "away" : ""}>
            <line x1="0" y1="0" x2={tx} y2={ty} />
            <polygon points={head} />
            <text x={tx + 12 * ux} y={ty + 10 * uy + 4} text-anchor={ux > 0.4 ? "start" : ux < -0.4 ? "end" : "middle"}>
              {word}
            </text>
          </g>
        );
      })}
    </svg>
  );
}
