// SPDX-License-Identifier: Apache-2.0
// What the verdict says of fill and room; see PanFill and Clearance in studies/result.py.

import { computed } from "@preact/signals";
import { between } from "../chart";
import { verdict } from "../state";

export type Triple = [number, number, number];

export interface DipstickScale {
  full_along_m: number;
  low_along_m: number | null;
  low_end_along_m: number;
  graduations: { volume_m3: number; along_m: number }[];
}

export interface Parked {
  side: string;
  direction_deg: number;
  slope_deg: number;
  height_m: number;
  crank_gap_m: number | null;
  dipstick_along_m: number | null;
  dipstick_reads_m3: number | null;
}

export interface PanFill {
  name: string;
  cavity_m3: number;
  lowest_m: number;
  curve: { depth_m: number[]; volume_m3: number[]; surface_area_m2: number[] };
  full_m3: number;
  full_height_m: number;
  full_depth_m: number;
  low_m3: number | null;
  low_height_m: number | null;
  low_depth_m: number | null;
  service_fill_m3: number;
  brim_m3: number;
  brim_height_m: number;
  usable_m3: number;
  usable_by: string;
  hot_m3: number;
  hot_height_m: number;
  hot_depth_m: number;
  crank_gap_m: number | null;
  expansion: number;
  dipstick: DipstickScale | null;
  parked: Parked[];
  stock: PanFill | null;
}

export interface CaseGap {
  case: string;
  gap_m: number;
  on_pan_m: Triple;
  on_obstacle_m: Triple;
}

export interface ObstacleGap {
  obstacle: string;
  needed_m: number | null;
  cases: CaseGap[];
  worst: CaseGap;
}

export interface Clearance {
  name: string;
  obstacles: ObstacleGap[];
  lowest_point_m: Triple;
  guard: {
    obstacle: string;
    obstacle_lowest_m: number;
    pan_lowest_m: number;
    case: string;
    margin_m: number;
  } | null;
  ground_m: number | null;
  ground_at_bump_m: number | null;
  stock: Clearance | null;
}

export const measured = computed(() => {
  const now = verdict.value;
  if (!now) return null;
  const { fill, clearance } = now.answer as unknown as { fill: PanFill; clearance: Clearance | null };
  return { fill, clearance, stale: now.stale };
});

/** Heights of the curve's points over the rail, one array for one answer. */
const heights = new WeakMap<PanFill, Float64Array>();

export function heightsOf(fill: PanFill): Float64Array {
  let kept = heights.get(fill);
  if (!kept) heights.set(fill, (kept = Float64Array.from(fill.curve.depth_m, (d) => fill.lowest_m + d)));
  return kept;
}

/** Between the points of the answer's own curve; null where it has none. */
export const heightAt = (fill: PanFill, volume: number): number | null =>
  between(fill.curve.volume_m3, heightsOf(fill), volume);

export const volumeAt = (fill: PanFill, height: number): number | null =>
  between(heightsOf(fill), fill.curve.volume_m3, height);

/** Where the stick is wet with that much oil, between its graduations; null beyond them. */
export function alongAt(scale: DipstickScale, volume: number): number | null {
  const marks = scale.graduations;
  return between(
    marks.map((g) => g.volume_m3),
    marks.map((g) => g.along_m),
    volume,
  );
}
