// SPDX-License-Identifier: Apache-2.0
// Files that come in by drop or by choice: where they went, and what was found in them.

import { signal } from "@preact/signals";
import { Refused, uploaded, WINDOW } from "../api";
import type { Problem } from "../protocol";
import { announce } from "./announce";

export const GEOMETRY = [".step", ".stp", ".stl", ".3mf", ".ply"] as const;
export const LOGS = [".csv", ".mf4", ".mdf", ".txt"] as const;

export interface Found {
  code: string;
  place: string;
  found: string;
  repair: string;
  severity: string;
}

interface Came {
  name: string;
  findings?: Found[];
  measure?: { volume_m3: number; watertight: boolean; bodies: number; triangles: number } | null;
  read?: unknown;
}

export interface Arrival {
  id: number;
  file: string;
  as: "geometry" | "log" | null;
  /** The field it was dropped on */
  key: string | null;
  state: "on its way" | "here" | "refused";
  came: Came | null;
  problems: Problem[];
  said: string;
}

export const arrivals = signal<readonly Arrival[]>([]);
let count = 0;

const ends = (name: string, with_: readonly string[]): boolean =>
  with_.some((end) => name.toLowerCase().endsWith(end));

export function kindOf(name: string): Arrival["as"] {
  if (ends(name, GEOMETRY)) return "geometry";
  return ends(name, LOGS) ? "log" : null;
}

function note(arrival: Arrival): void {
  const others = arrivals.value.filter((a) => a.id !== arrival.id);
  arrivals.value = [...others, arrival].sort((a, b) => a.id - b.id);
}

const UNKNOWN =
  `is neither geometry (${GEOMETRY.join(" ")}) nor a log (${LOGS.join(" ")}); ` +
  "export it as one of these, and drop it again";

async function bringOne(file: File, key: string | null): Promise<void> {
  const as = kindOf(file.name);
  const fresh = { id: ++count, file: file.name, as, key, came: null, problems: [], said: "" };
  if (as === null) {
    note({ ...fresh, state: "refused", said: `${file.name} ${UNKNOWN}` });
    return;
  }
  note({ ...fresh, state: "on its way" });
  try {
    const query = { as, name: file.name, window: WINDOW, ...(key ? { key } : {}) };
    const came = await uploaded<Came>(query, file);
    note({ ...fresh, state: "here", came });
    announce(`${file.name} is in the job folder, as ${came.name}`);
  } catch (error) {
    const refused = error instanceof Refused ? error : null;
    const said = refused ? (refused.problems.length ? "" : refused.message) : "the line to the server was lost; drop it again";
    note({ ...fresh, state: "refused", problems: refused?.problems ?? [], said });
  }
}

/** One after another, each told about by itself. With `key`, put at that place of the job. */
export async function bringIn(files: readonly File[], key: string | null = null): Promise<void> {
  for (const file of files) await bringOne(file, key);
}

export const putAway = (id: number): void => {
  arrivals.value = arrivals.value.filter((a) => a.id !== id);
};
