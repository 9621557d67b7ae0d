// SPDX-License-Identifier: Apache-2.0
// What `drive` answers; see DriveResult in studies/motion_result.py.

import type { Requirement } from "../protocol";

export type Series = number[];
export type Gaps = (number | null)[];
export type Triple = [number, number, number];

export const DOORS = ["working", "stuck open", "stuck shut", "no baffles"] as const;
export type DoorsAre = (typeof DOORS)[number];

export const DOOR_WORDS: Record<DoorsAre, string> = {
  working: "doors working",
  "stuck open": "all doors stuck open",
  "stuck shut": "all doors stuck shut",
  "no baffles": "without baffles",
};

export interface Course {
  name: string;
  where: string;
  capacity_m3: number;
  volume_m3: Series;
  surface_height_m: Series;
  tilt: Triple[];
}

export interface DriveAnswer {
  manoeuvre: string;
  kind: string;
  temperature_k: number;
  doors_are: DoorsAre;
  time_s: Series;
  accel_g: Triple[];
  rpm: Gaps;
  speed_m_s: Gaps;
  compartments: Course[];
  doors: { name: string; stop_deg: number; angle_deg: Series }[];
  pickup: { compartment: string | null; cover_m: Gaps; air_fraction: Gaps };
  pump: { flow_m3_s: Series; inlet_pa: Gaps; pressure_pa: Gaps };
  retained_m3: Series;
  summary: {
    duration_s: number;
    first_air_s: number | null;
    aerated_s: number;
    longest_dry_s: number;
    air_drawn_m3: number;
    least_cover_m: number | null;
    least_cover_s: number | null;
    least_inlet_pa: number | null;
    least_inlet_s: number | null;
    least_pressure_pa: number | null;
    most_retained_m3: number;
    largest_g: number;
    mass_error: number;
  };
  error: { tolerance_m: number; level_table_m: number; steps: number; rejected: number };
  requirements: Requirement[];
  assumptions: string[];
  findings: { code: string; place: string; found: string; repair: string }[];
  spans: [string, number, number][];
  chances: Chance[];
}

/** How often a requirement fails when what is uncertain is drawn at random: shares from 0 to 1. */
export interface Chance {
  requirement: string;
  fails: number;
  low: number;
  high: number;
  samples: number;
  seed: number;
  drawn: string[];
}

export const hasValues = (series: Gaps): boolean => series.some((v) => v !== null);

/** When there is air at the pickup; at least a moment where a spell fell between two times. */
export function airSpells({ time_s, pickup, summary }: DriveAnswer): [number, number][] {
  const spells: [number, number][] = [];
  let from: number | null = null;
  pickup.air_fraction.forEach((air, k) => {
    if ((air ?? 0) > 0) from ??= time_s[k]!;
    else if (from !== null) {
      spells.push([from, time_s[k]!]);
      from = null;
    }
  });
  if (from !== null) spells.push([from, time_s[time_s.length - 1]!]);
  const first = summary.first_air_s;
  return spells.length || first === null ? spells : [[first, first]];
}

/** What the pump's inlet needs, where a requirement of the run says so. */
export function inletLimit(drive: DriveAnswer): number | null {
  const asked = drive.requirements.find((r) => r.id.startsWith("inlet") && r.unit === "Pa");
  return asked?.limit ?? null;
}

export function standing(drive: DriveAnswer): "met" | "not met" | "not judged" {
  const states = new Set(drive.requirements.map((r) => r.state));
  if (states.has("not met")) return "not met";
  return states.has("met") ? "met" : "not judged";
}

/** What became of the pickup, in a few words. */
export function verdictWords(drive: DriveAnswer): string {
  const first = drive.summary.first_air_s;
  if (drive.pickup.compartment === null) return "No pickup to judge";
  if (first !== null) return `The pickup takes air after ${first.toFixed(2)} s`;
  const but = standing(drive) === "not met" ? ", but a requirement is not met" : "";
  return `The pickup never takes air${but}`;
}
