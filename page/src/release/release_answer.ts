// SPDX-License-Identifier: Apache-2.0
// What `release` and `history` answer, as studies/release.py and studies/history.py have it.

import type { Requirement } from "../protocol";

export interface Change {
  key: string;
  before: string;
  after: string;
}

export interface Step {
  before: string;
  after: string;
  kept: string;
  changes: Change[];
  figures: { name: string; kind: string; before: number; after: number }[];
  why_no_figures: string;
}

export interface FitEntry {
  record: string;
  revision: string;
  made: string;
  by: string;
  prototype: string;
  findings: { place: string; found: "touches" | "short" | "free"; by_m: number | null; at_m: [number, number, number] | null; note: string }[];
  change: string;
}

export interface HistoryAnswer {
  job: string;
  revision: string;
  steps: Step[];
  fits: FitEntry[];
}

export interface ReleaseAnswer {
  job: string;
  revision: string;
  part_hash: string;
  requirements: Requirement[];
  records: { name: string; kind: string; made: string; by: string; note: string }[];
  aside: [record: string, decision: string][];
  photos: { record: string; file: string; unchanged: boolean }[];
  torque: string | null;
  untested: string[];
}
