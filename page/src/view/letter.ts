// SPDX-License-Identifier: Apache-2.0
// Where a compartment's letter stands: over the middle of what the cut plane leaves of it.

import type { Axis, Cut, Place } from "./view3d";

export interface Box {
  low: Place;
  high: Place;
}

const AXES: readonly Axis[] = ["x", "y", "z"];
const boxes = new WeakMap<Float32Array, Box>();

/** Round `points` (x, y, z in a row, engine frame), along the car's axes. */
export function boxOf(points: Float32Array, pose: readonly (readonly number[])[]): Box {
  const known = boxes.get(points);
  if (known) return known;
  const box: Box = { low: { x: Infinity, y: Infinity, z: Infinity }, high: { x: -Infinity, y: -Infinity, z: -Infinity } };
  for (let k = 0; k + 2 < points.length; k += 3) {
    AXES.forEach((axis, r) => {
      const [a, b, c, d] = pose[r]!;
      const at = a! * points[k]! + b! * points[k + 1]! + c! * points[k + 2]! + d!;
      box.low[axis] = Math.min(box.low[axis], at);
      box.high[axis] = Math.max(box.high[axis], at);
    });
  }
  boxes.set(points, box);
  return box;
}

/** Car frame; null where the cut has taken all of it away. */
export function middleLeft({ low, high }: Box, cut: Cut | null): Place | null {
  const middle = (axis: Axis): number => {
    if (cut?.axis !== axis) return 0.5 * (low[axis] + high[axis]);
    return cut.beyond ? 0.5 * (low[axis] + Math.min(high[axis], cut.at)) : 0.5 * (Math.max(low[axis], cut.at) + high[axis]);
  };
  const gone = cut && (cut.beyond ? low[cut.axis] >= cut.at : high[cut.axis] <= cut.at);
  return gone ? null : { x: middle("x"), y: middle("y"), z: middle("z") };
}
