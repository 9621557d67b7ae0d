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

export interface HistoryAnswer {
  job: string;
  revision: string;
  steps: Step[];
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
