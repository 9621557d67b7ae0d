// SPDX-License-Identifier: Apache-2.0
// Where things stand on the glass.

import { fromShown, shown, shownNumber } from "../shown";
import { heightAt, heightsOf, type PanFill } from "./answer";

/** Of the drawing, in its own units. */
export const TALL = 360;
const [HEAD, FOOT] = [14, 16];

export interface GlassScale {
  top: number;
  /** On the drawing, of a height over the rail [m] */
  at: (height: number) => number;
  height: (y: number) => number;
}

export function scaleOf(fill: PanFill): GlassScale {
  const top = heightsOf(fill).at(-1)!;
  const per = (TALL - HEAD - FOOT) / (top - fill.lowest_m || 1);
  return {
    top,
    at: (height) => HEAD + (top - height) * per,
    height: (y) => top - (y - HEAD) / per,
  };
}

/** Round volumes with their heights; those that would crowd are left out. */
export function ticksOf(fill: PanFill): { words: string; height: number }[] {
  const scale = scaleOf(fill);
  const most = shownNumber(fill.curve.volume_m3.at(-1)!, "volume");
  const ticks: { words: string; height: number }[] = [];
  let last = Infinity;
  for (let volume = 0; volume <= most; volume += 0.5) {
    const height = heightAt(fill, fromShown(volume, "volume"));
    if (height === null || last - scale.at(height) < 18) continue;
    last = scale.at(height);
    ticks.push({ words: shown(fromShown(volume, "volume"), "volume"), height });
  }
  return ticks;
}

/** The marks, their words moved apart. */
export function marksOf(fill: PanFill, scale: GlassScale): { words: string; y: number; row: number }[] {
  const all: [string, number | null][] = [
    ["brim", fill.brim_height_m],
    ["hot", fill.hot_height_m],
    ["full", fill.full_height_m],
    ["low", fill.low_height_m],
  ];
  let last = -Infinity;
  return all
    .filter((mark): mark is [string, number] => mark[1] !== null)
    .sort((a, b) => b[1] - a[1])
    .map(([words, height]) => {
      const y = scale.at(height);
      const row = (last = Math.max(y, last + 19));
      return { words, y, row };
    });
}
