// SPDX-License-Identifier: Apache-2.0
// Files that come in by drop or by choice: where they went, and what was found in them.

import { signal } from "@preact/signals";
import { Refused, uploaded, WINDOW } from "../api";
import type { Problem } from "../protocol";
import { announce } from "./announce";

export const GEOMETRY = [".step", ".stp", ".stl", ".3mf", ".ply"] as const;
export const LOGS = [".csv", ".txt", ".tsv", ".dat", ".log", ".mf4", ".mdf"] as const;

export interface Found {
  code: string;
  place: string;
  found: string;
  repair: string;
  severity: string;
}

export interface Came {
  /** Its path in the job folder */
  name: string;
  findings?: Found[];
  measure?: { volume_m3: number; watertight: boolean; bodies: number; triangles: number };
  read?: { channels: { role: string; means: string; column: string }[] } | null;
  /** Columns that somebody has to name yet */
  unnamed?: Problem[];
  set_problems?: Problem[];
  set_error?: string;
}

export interface Arrival {
  id: number;
  file: File;
  as: "geometry" | "log" | null;
  /** The field it was dropped on */
  key: string | null;
  state: "on its way" | "here" | "not taken";
  came: Came | null;
  problems: Problem[];
  said: string;
  /** A free name, where another file has its own */
  offer: string | null;
  /** How large it would be in each unit [m], where it carries none */
  sizes: Record<string, number[]> | null;
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
const LOST = "the line to the server was lost; drop it again";

/** Send it, or send it again with a `name` or a `unit` that it needed. Its path, once it is taken. */
export async function send(of: Arrival, more: Record<string, string> = {}): Promise<string | null> {
  if (of.as === null) return null;
  const fresh: Arrival = { ...of, state: "on its way", problems: [], said: "", offer: null, sizes: null };
  note(fresh);
  try {
    const key = of.key ? { key: of.key } : {};
    const query = { as: of.as, name: of.file.name, window: WINDOW, ...key, ...more };
    const came = await uploaded<Came>(query, of.file);
    note({ ...fresh, state: "here", came });
    announce(`${of.file.name} is in the job folder, as ${came.name}`);
    return came.name;
  } catch (error) {
    note({ ...fresh, state: "not taken", ...refusal(error) });
    announce(`${of.file.name} was not taken`);
    return null;
  }
}

function refusal(error: unknown): Pick<Arrival, "problems" | "said" | "offer" | "sizes"> {
  if (!(error instanceof Refused)) return { problems: [], said: LOST, offer: null, sizes: null };
  return {
    problems: error.problems,
    said: error.problems.length ? "" : error.message,
    offer: (error.body["offer"] as string | undefined) ?? null,
    sizes: (error.body["sizes_m"] as Record<string, number[]> | undefined) ?? null,
  };
}

/** One after another, each told about by itself. With `key`, put at that place of the job.

The path in the job folder of the last one that was taken. */
export async function bringIn(files: readonly File[], key: string | null = null): Promise<string | null> {
  let last: string | null = null;
  for (const file of files) {
    const as = kindOf(file.name);
    const none = { came: null, problems: [], offer: null, sizes: null };
    const fresh: Arrival = { id: ++count, file, as, key, state: "on its way", said: "", ...none };
    if (as === null) note({ ...fresh, state: "not taken", said: `${file.name} ${UNKNOWN}` });
    else last = (await send(fresh)) ?? last;
  }
  return last;
}

export const putAway = (id: number): void => {
  arrivals.value = arrivals.value.filter((a) => a.id !== id);
};
