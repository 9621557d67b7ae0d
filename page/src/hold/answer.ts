// SPDX-License-Identifier: Apache-2.0
// The static hold of the verdict, and the times in motion, as the commands print them.

import { computed } from "@preact/signals";
import { verdict } from "../state";

export interface LowMark {
  oil_m3: number;
  left_g: number;
  right_g: number;
  brake_g: number;
  accelerate_g: number;
}

export interface PanHold {
  name: string;
  rpm: number | null;
  oil_m3: number;
  flow_m3_s: number;
  directions_deg: number[];
  limit_g: number[];
  held_to_end: boolean[];
  left_g: number;
  right_g: number;
  brake_g: number;
  accelerate_g: number;
  slope_up_deg: number;
  slope_down_deg: number;
  slope_left_deg: number;
  slope_right_deg: number;
  magnitudes_g: number[];
  cover_at_rest_m: number;
  drawdown_at_rest_m: number;
  low_mark: LowMark | null;
  stock: PanHold | null;
}

export interface HoldTimes {
  doors: string;
  /** [rpm][direction][g]; null: covered to the end of the look */
  time_s: (number | null)[][][];
}

export interface HoldMapAnswer {
  directions_deg: number[];
  magnitudes_g: number[];
  rpm: number[];
  horizon_s: number;
  hold_time_s: number;
  temperature_k: number;
  maps: HoldTimes[];
  limits: { rpm: number; doors: string; left_g: number; right_g: number; brake_g: number; accelerate_g: number }[];
  assumptions: string[];
}

/** null: no verdict yet; `hold` null: the job has no pickup to hold. */
export const held = computed(() => {
  const now = verdict.value;
  if (!now) return null;
  return { hold: (now.answer["hold"] as PanHold | null | undefined) ?? null, stale: now.stale };
});
