// SPDX-License-Identifier: Apache-2.0
// Places in rising numbers, and values between the points of an answer's own curve.

export type Numbers = ArrayLike<number>;

/** Index of the first of the rising `xs` that is `x` or more; their count where none is. */
export function firstAtLeast(xs: Numbers, x: number): number {
  let low = 0;
  let high = xs.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (xs[middle]! < x) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Index of the nearest of the rising `xs`; -1 where there is none. */
export function nearest(xs: Numbers, x: number): number {
  const after = firstAtLeast(xs, x);
  if (after === 0) return xs.length ? 0 : -1;
  if (after === xs.length) return after - 1;
  return x - xs[after - 1]! <= xs[after]! - x ? after - 1 : after;
}

/**
 * The curve's value at `x`, straight between its points; null beyond its ends and beside a gap.
 *
 * Swapped, `between(ys, xs, y)` reads a rising curve the other way round.
 */
export function between(xs: Numbers, ys: ArrayLike<number | null>, x: number): number | null {
  const after = firstAtLeast(xs, x);
  if (after >= xs.length || Number.isNaN(x)) return null;
  const high = ys[after];
  if (xs[after] === x) return finite(high);
  const low = ys[after - 1];
  if (after === 0 || finite(low) === null || finite(high) === null) return null;
  const share = (x - xs[after - 1]!) / (xs[after]! - xs[after - 1]!);
  return low! + share * (high! - low!);
}

const finite = (y: number | null | undefined): number | null =>
  y != null && Number.isFinite(y) ? y : null;
