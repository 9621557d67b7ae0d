// SPDX-License-Identifier: Apache-2.0
// A series on pixels: sample by sample where there is room for it, else a bar from the least to the
// most in every column of pixels. Bars are drawn many times quicker than a long line is stroked.

import { firstAtLeast, type Numbers } from "./find";
import type { Pyramid } from "./pyramid";

export interface Pen {
  moveTo(x: number, y: number): void;
  lineTo(x: number, y: number): void;
}

/** Straight from the data to the canvas: pixel = shift + scale * value. */
export interface Ruler {
  shift: number;
  scale: number;
}

export const on = (ruler: Ruler, value: number): number => ruler.shift + ruler.scale * value;

/** Where each column of pixels begins in the series. */
export interface Columns {
  /** Pixel of the first column's left edge */
  start: number;
  /** Index of the first sample in each column, and one more: where the last one ends */
  edges: Int32Array;
  /** Whether there are few enough samples to draw each */
  exact: boolean;
  /** One sample beyond the window on either side, so that a line leaves it */
  from: number;
  to: number;
}

/** Samples to a pixel up to which each is drawn. */
const FEW = 2;

export function columnsOf(xs: Numbers, x: Ruler, start: number, wide: number): Columns {
  const count = Math.max(1, Math.ceil(wide));
  const edges = new Int32Array(count + 1);
  const first = firstAtLeast(xs, (start - x.shift) / x.scale);
  const end = firstAtLeast(xs, (start + wide - x.shift) / x.scale);
  const from = Math.max(0, first - 1);
  const to = Math.min(xs.length, end + 1);
  if (end - first <= FEW * count) return { start, edges, exact: true, from, to };
  edges[0] = first;
  let low = first;
  for (let k = 1; k <= count; k += 1) {
    low = k === count ? end : later(xs, (start + k - x.shift) / x.scale, low, end);
    edges[k] = low;
  }
  return { start, edges, exact: false, from, to };
}

/** First index from `low` on whose x is `x` or more: columns follow each other, so it is near. */
function later(xs: Numbers, x: number, low: number, end: number): number {
  let step = 1;
  let high = low;
  while (high < end && xs[high]! < x) {
    low = high + 1;
    high += step;
    step *= 2;
  }
  high = Math.min(high, end);
  while (low < high) {
    const middle = (low + high) >> 1;
    if (xs[middle]! < x) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The way of the pen through every sample; a gap lifts it, and so does more than `longest` in x. */
export function samples(
  pen: Pen,
  xs: Numbers,
  ys: Numbers,
  columns: Columns,
  x: Ruler,
  y: Ruler,
  longest = Infinity,
): void {
  let down = false;
  for (let i = columns.from; i < columns.to; i += 1) {
    const value = ys[i]!;
    if (Number.isNaN(value)) {
      down = false;
      continue;
    }
    if (down && xs[i]! - xs[i - 1]! > longest) down = false;
    const at = on(x, xs[i]!);
    if (down) pen.lineTo(at, on(y, value));
    else pen.moveTo(at, on(y, value));
    // A sample alone between gaps is still to be seen.
    if (!down) pen.lineTo(at + 0.5, on(y, value));
    down = true;
  }
}

/**
 * A bar for every column that has a sample, from `low` to `high` in the data's numbers. Where the
 * line goes on from the column before, its bar reaches to the last sample there.
 */
export function bars(
  put: (column: number, low: number, high: number) => void,
  xs: Numbers,
  pyramid: Pyramid,
  { edges }: Columns,
  longest = Infinity,
): void {
  const ys = pyramid.values;
  let before = NaN;
  for (let k = 0; k + 1 < edges.length; k += 1) {
    const from = edges[k]!;
    const to = edges[k + 1]!;
    if (from === to) continue;
    if (from > 0 && xs[from]! - xs[from - 1]! > longest) before = NaN;
    pyramid.look(from, to);
    const { low, high } = pyramid;
    if (!Number.isNaN(low)) {
      const joined = !Number.isNaN(before) && !Number.isNaN(ys[from]!);
      put(k, joined ? Math.min(low, before) : low, joined ? Math.max(high, before) : high);
    }
    before = ys[to - 1]!;
  }
}
