// SPDX-License-Identifier: Apache-2.0
// What is filed of the job, as studies/record_list.py has it; asked for anew after every filing.

import { computed, effect, signal } from "@preact/signals";
import { got } from "../api";
import type { Problem } from "../protocol";
import { folder, job } from "../state";

export interface Listed {
  name: string;
  kind: string;
  revision: string;
  part_hash: string;
  made: string;
  by: string;
  note: string;
  standing: "counts" | "stale" | "set aside";
  why: string;
  files: { file: string; sha256: string; unchanged: boolean | null }[];
  text: string;
}

export interface RecordList {
  job: string;
  revision: string;
  part_hash: string;
  input_hash: string;
  filed: Listed[];
  problems: Problem[];
  untested: string[];
}

export const records = signal<RecordList | null>(null);
export const recordsSaid = signal("");

/** The job has something to mend, which the page says once, above every sheet. */
export const unread = computed(() => (job.value?.problems.length ?? 0) > 0);

effect(() => {
  void folder.value;
  records.value = null; // another job's
});

export async function listRecords(): Promise<void> {
  try {
    records.value = await got<RecordList>("/api/records");
    recordsSaid.value = "";
  } catch (error) {
    recordsSaid.value = error instanceof Error ? error.message : String(error);
  }
}
