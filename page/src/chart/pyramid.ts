// SPDX-License-Identifier: Apache-2.0
// Least and most of any stretch of a long series, in a few steps however long the stretch is.

import type { Numbers } from "./find";

/** Samples in the smallest bucket; below that, looking at the samples themselves is as quick. */
const BUCKET = 8;

/**
 * Extremes of buckets of 8, 16, 32... samples. NaN is a gap: it counts for nothing.
 *
 * A stretch is put together of the largest buckets that lie in it and of the samples at its two
 * ends, so its extremes are exact at every zoom.
 */
export class Pyramid {
  /** Of the stretch asked for last; NaN where it is all gap. */
  low = NaN;
  high = NaN;
  private readonly lows: Float64Array[] = [];
  private readonly highs: Float64Array[] = [];

  constructor(readonly values: Numbers) {
    this.ground();
    for (let size = this.lows[0]!.length >> 1; size > 0; size >>= 1) this.rise(size);
  }

  /** Sets `low` and `high` for the samples from `from` up to, not with, `to`. */
  look(from: number, to: number): void {
    this.low = this.high = NaN;
    let left = Math.ceil(from / BUCKET);
    let right = Math.floor(to / BUCKET);
    if (left >= right) return this.samples(from, to);
    this.samples(from, left * BUCKET);
    this.samples(right * BUCKET, to);
    for (let level = 0; left < right; level += 1) {
      if (left & 1) this.bucket(level, left++);
      if (right & 1) this.bucket(level, --right);
      left >>= 1;
      right >>= 1;
    }
  }

  private take(low: number, high: number): void {
    if (!(this.low <= low)) this.low = Number.isNaN(low) ? this.low : low;
    if (!(this.high >= high)) this.high = Number.isNaN(high) ? this.high : high;
  }

  private bucket(level: number, at: number): void {
    this.take(this.lows[level]![at]!, this.highs[level]![at]!);
  }

  private samples(from: number, to: number): void {
    for (let i = from; i < to; i += 1) this.take(this.values[i]!, this.values[i]!);
  }

  private ground(): void {
    const size = Math.floor(this.values.length / BUCKET);
    const lows = new Float64Array(size);
    const highs = new Float64Array(size);
    for (let k = 0; k < size; k += 1) {
      this.low = this.high = NaN;
      this.samples(k * BUCKET, (k + 1) * BUCKET);
      lows[k] = this.low;
      highs[k] = this.high;
    }
    this.lows.push(lows);
    this.highs.push(highs);
  }

  private rise(size: number): void {
    const below = this.lows.length - 1;
    const lows = new Float64Array(size);
    const highs = new Float64Array(size);
    for (let k = 0; k < size; k += 1) {
      this.low = this.high = NaN;
      this.bucket(below, 2 * k);
      this.bucket(below, 2 * k + 1);
      lows[k] = this.low;
      highs[k] = this.high;
    }
    this.lows.push(lows);
    this.highs.push(highs);
  }
}
