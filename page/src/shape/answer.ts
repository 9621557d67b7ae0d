// SPDX-License-Identifier: Apache-2.0
// What rail, shape and space answer, as far as the sheet shows it; SI, as in studies/*_result.py.

import type { Finding } from "./Study";

type Spot = [number, number];
type Place = [number, number, number];

export interface SetHole {
  name: string;
  off_m: Spot;
  distance_m: number;
  allowed_m: number;
  most_m: number;
  state: "fits" | "tight" | "strikes";
}

export interface MeasuredFit {
  name: string;
  how: string;
  holes: SetHole[];
  missing: string[];
  rms_m: number;
  worst: string;
  worst_m: number;
  scale: { scale: number; told: boolean; rms_m: number };
  state: SetHole["state"];
}

export interface RailAnswer {
  verdict: string;
  summary: string;
  thread: string;
  fit: string;
  holes: { name: string; at_m: Spot; diameter_m: number; left_m: number; grows_m: number; left_hot_m: number }[];
  growth: { pan: string; block: string; rise_k: number; longest_m: number; between: [string, string]; growth_m: number };
  sets: MeasuredFit[];
  cautions: string[];
}

export interface ShapeAnswer {
  holds_m3: number;
  outside_m3: number;
  metal_m3: number;
  material: string;
  mass_kg: number;
  low_m: Place;
  high_m: Place;
  wall_m: number;
  floor_m: number;
  flange_m: number;
  edge_m: number;
  holes: number;
  zones: { name: string; deepest_m: number; top_m: number; corner_m: number; floor_radius_m: number }[];
  bosses: { name: string; kind: string; thread: string; bore_m: number; at_m: Place }[];
  ground_m: number | null;
  guard: string;
  guard_over_m: number | null;
  findings: Finding[];
}

export type Side = "both" | "left" | "right" | "front" | "rear";

export interface SpaceAnswer {
  verdict: string;
  summary: string;
  inside_m3: number;
  error_m3: number;
  outside_m3: number;
  deepest_m: number;
  lowest: { name: string; height_m: number; binds: boolean }[];
  curve_depth_m: number[];
  curve_m3: number[];
  table: { depths_m: number[]; growths_m: number[]; volumes_m3: Record<Side, number[][]> };
  taken: {
    obstacle: string;
    needed_m: number | null;
    lost_m3: number;
    at_rest_m3: number;
    worst_case: string;
    worst_m3: number;
  }[];
  pan: { name: string; volume_m3: number; share: number };
  fill: { fill_m3: number; most_m3: number; fits: boolean } | null;
  sentences: string[];
  assumptions: string[];
  findings: Finding[];
}
