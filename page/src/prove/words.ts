// SPDX-License-Identifier: Apache-2.0
// Numbers of a test day and a log as a person says them.

import { shown, unitName } from "../shown";
import type { Drive, PressurePoint, Stage } from "./plan_answer";

const WAYS: Record<string, string> = {
  left: "left",
  right: "right",
  both: "both ways",
  straight: "straight",
  turning: "turning, side not told",
  "not known": "not told",
};

export const wayOf = (turn: string): string => WAYS[turn] ?? turn;

/** `0.50 g`, from a number that is in g. */
export function inG(g: number | null, sign = false): string {
  if (g === null) return "–";
  const text = Math.abs(g) < 0.005 ? "0.00" : g.toFixed(2).replace("-", "−");
  return `${sign && g >= 0.005 ? "+" : ""}${text}\u00a0g`;
}

export const inRpm = (rpm: number | null): string =>
  rpm === null ? "–" : `${Math.round(rpm)}\u00a0rpm`;

export const seconds = (s: number | null, digits = 1): string =>
  s === null ? "–" : `${s.toFixed(digits)}\u00a0s`;

/** `2:07.7`, as on the logger's screen. */
export function clock(s: number): string {
  const minutes = Math.floor(s / 60);
  const rest = (s - 60 * minutes).toFixed(1).padStart(4, "0");
  return `${minutes}:${rest}`;
}

/** `1 lap, 20 s` or `3 × 13 s`. */
export function timeOf(run: Drive): string {
  const many = run.repeats > 1 ? `${run.repeats} × ` : "";
  const time = run.duration_s === null ? "" : seconds(run.duration_s, 0);
  const laps = run.laps === null ? "" : `${run.laps} ${run.laps === 1 ? "lap" : "laps"}`;
  return `${many}${[laps, time].filter(Boolean).join(", ")}` || "–";
}

/** `161 to 218 kPa` */
export function bandOf(point: PressurePoint): string {
  if (point.high_pa === null) return `${shown(point.low_pa, "pressure")} or more`;
  const low = shown(point.low_pa, "pressure").replace(/\s.*$/, "");
  return `${low} to ${shown(point.high_pa, "pressure")}`;
}

/** What the network says of one run. */
export function forecastOf({ forecast }: Drive): string {
  if (forecast.outcome === "not computed") return "not foretold";
  if (forecast.outcome === "covered") return "stays covered";
  return `AIR after ${seconds(forecast.first_air_s ?? 0)}`;
}

export const drawsAir = (stage: Stage): boolean =>
  stage.runs.some((run) => run.forecast.outcome === "air");

/** `radius 30 m, cones apart 18 m` */
export function layoutOf(stage: Stage): string {
  const metres = (m: number) => (unitName("length") === "in" ? `${Math.round(m / 0.3048)}\u00a0ft` : `${m}\u00a0m`);
  const radius = stage.radius_m === null ? [] : [`radius ${metres(stage.radius_m)}`];
  return [...radius, ...stage.layout.map(([what, m]) => `${what} ${metres(m)}`)].join(", ");
}
