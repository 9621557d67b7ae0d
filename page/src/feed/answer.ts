// SPDX-License-Identifier: Apache-2.0
// What the verdict says of the feed; see Feed in studies/feed_result.py. Pressures are absolute.

import { computed } from "@preact/signals";
import { verdict } from "../state";

export const ITEMS = [
  ["screen_pa", "screen"],
  ["mouth_pa", "mouth"],
  ["friction_pa", "straight tube"],
  ["bends_pa", "bends"],
  ["steps_pa", "changes of bore"],
  ["motion_pa", "the oil's own speed"],
] as const;

type Item = (typeof ITEMS)[number][0];
type Losses = Record<Item, number>;
type Tables = Record<Item, number[][]>;

export interface FeedPoint extends Losses {
  temperature_k: number;
  rpm: number;
  flow_m3_s: number;
  viscosity_m2_s: number;
  ambient_pa: number;
  head_pa: number;
  inlet_pa: number;
  needed_pa: number;
  speed_m_s: number;
  reynolds: number;
  regime: string;
  face_speed_m_s: number | null;
  cover_m: number | null;
  drawdown_m: number | null;
  film_m: number | null;
}

export interface Allowed {
  needed_pa: number;
  rpm: (number | null)[];
  held_to_end: boolean[];
  coldest_k: number | null;
  full_speed_k: number | null;
}

export interface Feed extends Tables {
  name: string;
  temperature_k: number[];
  rpm: number[];
  viscosity_m2_s: number[];
  ambient_pa: number;
  inlet_pa: number[][];
  head_pa: number[][];
  flow_m3_s: number[][];
  speed_m_s: number[][];
  cover_m: (number | null)[][] | null;
  continuous: Allowed;
  short: Allowed;
  hot: FeedPoint;
  cold: FeedPoint | null;
  worst: FeedPoint;
  altitudes: { altitude_m: number; ambient_pa: number; hot_pa: number; cold_pa: number | null }[];
  cautions: string[];
  assumptions: string[];
  stock: Feed | null;
}

export const fed = computed(() => {
  const now = verdict.value;
  return now && { feed: (now.answer as unknown as { feed: Feed | null }).feed, stale: now.stale };
});

/** Rows with a fifth of the air's pressure left at the lowest speed; hot in any case. */
function worth({ temperature_k, inlet_pa, ambient_pa }: Feed): number[] {
  const some = temperature_k.map((_, k) => k).filter((k) => inlet_pa[k]![0]! > 0.2 * ambient_pa);
  return some.length ? some : [temperature_k.length - 1];
}

/** The coldest with something left, the job's cold, the hottest, and others at even distance. */
export function fewTemperatures(feed: Feed, count: number): number[] {
  const t = feed.temperature_k;
  const some = worth(feed);
  const kept = new Set([some[0]!, some[some.length - 1]!]);
  const cold = feed.cold ? t.indexOf(feed.cold.temperature_k) : -1;
  if (some.includes(cold)) kept.add(cold);
  const lone = (k: number): number => Math.min(...[...kept].map((other) => Math.abs(t[k]! - t[other]!)));
  while (kept.size < Math.min(count, some.length)) {
    const rest = some.filter((k) => !kept.has(k));
    kept.add(rest.reduce((best, k) => (lone(k) > lone(best) ? k : best)));
  }
  return [...kept].sort((a, b) => a - b);
}
