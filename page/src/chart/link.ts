// SPDX-License-Identifier: Apache-2.0
// One cursor and one window for all charts that share a key, a slider and a 3D view as well.

import { batch, signal, type Signal } from "@preact/signals";

export type Window = readonly [from: number, to: number];

export class Link {
  /** Where the cursor is, in x of the data; null: nowhere */
  readonly at: Signal<number | null> = signal(null);
  /** What is looked at; null: all of it */
  readonly window: Signal<Window | null> = signal(null);
  /** From the least to the most x of all charts on this link */
  readonly whole: Signal<Window> = signal([0, 1]);
  private readonly extents = new Map<object, Window>();

  /** A chart joins with the extent of its x, and leaves with null. */
  join(chart: object, extent: Window | null): void {
    if (extent) this.extents.set(chart, extent);
    else this.extents.delete(chart);
    const all = [...this.extents.values()];
    if (!all.length) return;
    const low = Math.min(...all.map((e) => e[0]));
    const high = Math.max(...all.map((e) => e[1]));
    const [had, had_to] = this.whole.peek();
    if (low !== had || high !== had_to) this.whole.value = [low, high > low ? high : low + 1];
  }

  get shown(): Window {
    return this.window.value ?? this.whole.value;
  }

  /** Looks from `from` to `to`, kept inside the whole and no narrower than sense has. */
  look(from: number, to: number): void {
    const [low, high] = this.whole.peek();
    const least = (high - low) * 1e-5;
    const wide = Math.min(Math.max(to - from, least), high - low);
    const start = Math.min(Math.max((from + to - wide) / 2, low), high - wide);
    this.window.value = wide >= high - low ? null : [start, start + wide];
  }

  /** `factor` above 1 shows less, larger; `about` stays where it is. */
  zoom(factor: number, about?: number): void {
    const [from, to] = this.window.peek() ?? this.whole.peek();
    const at = this.at.peek();
    const inside = at !== null && at >= from && at <= to ? at : (from + to) / 2;
    const middle = about ?? inside;
    this.look(middle - (middle - from) / factor, middle + (to - middle) / factor);
  }

  /** Moves on by a share of what is shown. */
  pan(share: number): void {
    const [from, to] = this.window.peek() ?? this.whole.peek();
    const by = share * (to - from);
    const [low, high] = this.whole.peek();
    const kept = Math.min(Math.max(by, low - from), high - to);
    this.look(from + kept, to + kept);
  }

  reset(): void {
    this.window.value = null;
  }

  /** Puts the cursor at `x`, and the window round it where it is outside. */
  point(x: number | null): void {
    batch(() => {
      this.at.value = x;
      const window = this.window.peek();
      if (x === null || !window || (x >= window[0] && x <= window[1])) return;
      const half = (window[1] - window[0]) / 2;
      this.look(x - half, x + half);
    });
  }

  /** Shows a stretch with some room on either side, the cursor at its beginning. */
  show(from: number, to: number, room = 2): void {
    const [low, high] = this.whole.peek();
    const wide = Math.max(to - from, (high - low) * 0.002);
    batch(() => {
      this.look(from - room * wide, to + room * wide);
      this.at.value = from;
    });
  }
}

const links = new Map<string, Link>();

/** The link of that name, one and the same wherever it is asked for. */
export function linkOf(key: string): Link {
  let link = links.get(key);
  if (!link) links.set(key, (link = new Link()));
  return link;
}
