// SPDX-License-Identifier: Apache-2.0
// Directions on paper: the car's nose points up and its left is on the left.

import { between } from "./find";

export type Spot = [x: number, y: number];

/** Where `share` of the radius lies in a direction (0 accelerate, 90 left turn, 180 brake). */
export function spotOf(direction: number, share: number, radius: number): Spot {
  const angle = (direction * Math.PI) / 180;
  return [-radius * share * Math.sin(angle), -radius * share * Math.cos(angle)];
}

/** Direction of a spot, 0 up to 360. */
export function directionOf([x, y]: Spot): number {
  const angle = (Math.atan2(-x, -y) * 180) / Math.PI;
  return (angle + 360) % 360;
}

/** A round curve's value in any direction, between the two nearest. */
export function aroundAt(
  directions: ArrayLike<number>,
  values: ArrayLike<number | null>,
  direction: number,
): number | null {
  const n = directions.length;
  if (!n) return null;
  const turn = ((direction % 360) + 360) % 360;
  const xs = [directions[n - 1]! - 360, ...Array.from(directions), directions[0]! + 360];
  const ys = [values[n - 1]!, ...Array.from(values), values[0]!];
  return between(xs, ys, turn);
}

/** Words for a direction: where the car is pushed, in eighths. */
export function wayWords(direction: number): string {
  const ways = [
    "accelerating",
    "accelerating in a left turn",
    "left turn",
    "braking in a left turn",
    "braking",
    "braking in a right turn",
    "right turn",
    "accelerating in a right turn",
  ];
  return ways[Math.round((((direction % 360) + 360) % 360) / 45) % 8]!;
}

/** Round numbers up to `end`, three to five of them. */
export function ringsOf(end: number): number[] {
  const raw = end / 4;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 2.5, 5, 10].map((s) => s * power).find((s) => end / s <= 5.001)!;
  const rings: number[] = [];
  for (let k = 1; k * step <= end * 1.0001; k += 1) rings.push(k * step);
  return rings;
}
