// SPDX-License-Identifier: Apache-2.0
// What server and page say to one another. Answers themselves are the commands' --json, SI.

export interface Problem {
  code: string;
  where: string;
  found: string;
  needed: string;
  do: string;
}

export type UnitRow = [unit: string, factor: number, offset: number, decimals: number];
export type UnitTable = Record<string, UnitRow>;
export type UnitSystem = "metric" | "us";

export interface JobHead {
  name: string;
  revision: string;
  units: UnitSystem;
  text_hash: string;
  /** null while the job file has problems */
  input_hash: string | null;
  problems: Problem[];
  can_undo: boolean;
  can_redo: boolean;
}

export type WorkState = "waiting" | "running" | "done" | "failed" | "stopped";

export interface Work {
  id: string;
  question: string;
  args: Record<string, unknown>;
  state: WorkState;
  /** What it is doing, in words */
  text: string;
  /** 0 to 1 */
  share: number;
  /** Of its answer, once done */
  key: string | null;
  input_hash: string | null;
  problems: Problem[];
  error: string | null;
  /** Written under out/ */
  files: string[];
  /** Its inputs are no longer the job's */
  stale: boolean;
}

export interface ServerState {
  version: string;
  folder: string | null;
  job: JobHead | null;
  work: Work[];
  units: Record<UnitSystem, UnitTable>;
}

/** One line of the ledger; numbers in `unit`, shown by `kind`. */
export interface Requirement {
  id: string;
  statement: string;
  limit: number | null;
  value: number | null;
  margin: number | null;
  unit: string;
  kind: string;
  source: string;
  state: "met" | "not met" | "not judged";
  formula: string;
  reason: string;
  at_most: boolean;
}

export interface TiltAsked {
  type: "tilt";
  seq: number;
  /** The car's acceleration in g: forward, and to the left */
  ax: number;
  ay: number;
  mode: "settled" | "sudden";
}

export interface Surface {
  compartment: string;
  /** Along up, from the engine frame's origin */
  height_m: number;
  volume_m3: number;
}

export interface Tilted {
  type: "tilt";
  seq: number;
  up: [number, number, number];
  surfaces: Surface[];
  cover_m: number | null;
  drawdown_m: number | null;
  covered: boolean | null;
  problem?: string;
}

export type Told =
  | { type: "work"; work: Work }
  | { type: "job"; head: JobHead | null; window: string | null }
  | { type: "state"; state: ServerState }
  | Tilted;
