// SPDX-License-Identifier: Apache-2.0
// What `plan` answers, as studies/plan_result.py has it; SI, accelerations in g.

export interface PressurePoint {
  rpm: number;
  temperature_k: number;
  low_pa: number;
  high_pa: number | null;
  abort_pa: number;
}

export interface Forecast {
  outcome: "covered" | "air" | "not computed";
  first_air_s: number | null;
  followed_s: number;
  a_little_more_g: number | null;
  first_air_a_little_more_s: number | null;
  why: string;
}

export interface Drive {
  turn: "left" | "right" | "both" | "straight";
  accel_g: number;
  speed_m_s: number | null;
  gear: number | null;
  rpm: number | null;
  laps: number | null;
  lap_time_s: number | null;
  duration_s: number | null;
  repeats: number;
  pressure: PressurePoint | null;
  forecast: Forecast;
}

export interface Stage {
  number: number;
  name: string;
  kind: string;
  radius_m: number | null;
  runs: Drive[];
  how: string[];
  after: string[];
  gate: string[];
  layout: [string, number][];
}

export interface FillStep {
  volume_m3: number;
  below_rail_m: number;
  depth_m: number;
  along_dipstick_m: number | null;
  mark: string;
}

export interface TiltStep {
  way: string;
  accel_g: number;
  angle_deg: number;
  down_side: string;
  highest: [number, number, number];
  lowest: [number, number, number];
  over_rail: boolean;
}

export interface DoorCheck {
  baffle: string;
  name: string;
  stop_deg: number;
  swings: string;
  hinge: string;
  edge_gap_m: number;
}

export interface PlanAnswer {
  job: string;
  revision: string;
  pan: string;
  stages: Stage[];
  bench: {
    fill: { steps: FillStep[]; holds_m3: number; full_m3: number; service_fill_m3: number };
    tilt: { volume_m3: number; what: string; steps: TiltStep[]; cannot_show: string[] };
    doors: DoorCheck[];
    leak: string[];
  };
  pressure: {
    points: PressurePoint[];
    band_source: string;
    abort_source: string;
    relief_pa: number | null;
    hot_k: number;
  };
  missing: string[];
  assumptions: string[];
}
