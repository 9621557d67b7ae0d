// SPDX-License-Identifier: Apache-2.0
// Which logs are looked at, what is said of their columns, and what was read of them.

import { computed, effect, signal } from "@preact/signals";
import { got, posted, Refused, WINDOW } from "../api";
import { noteWritten } from "../numbers/form";
import type { Work } from "../protocol";
import { answered, ask, folder, work, workOn } from "../state";
import type { LogColumns, LogRole, ReadAnswer } from "./read_answer";

export interface LogListed {
  name: string;
  bytes: number;
  modified: number | string;
}

/** Logs in the job's tests/. */
export const logs = signal<readonly LogListed[] | null>(null);
/** Names of the logs that are read together, in the order of the day. */
export const chosen = signal<readonly string[]>([]);
/** What a person says of the columns and is not in the job yet: role to column, role to unit. */
export const channel = signal<Readonly<Record<string, string>>>({});
export const unit = signal<Readonly<Record<string, string>>>({});
export const radius = signal("");
/** Whether the network is held beside the log. */
export const beside = signal(true);
export const columns = signal<LogColumns | null>(null);
export const columnsSaid = signal<string>("");

effect(() => {
  void folder.value; // another job has other logs
  logs.value = null;
  chosen.value = [];
  columns.value = null;
  channel.value = unit.value = {};
});

export async function listLogs(): Promise<void> {
  logs.value = await got<LogListed[]>("/api/files?as=log").catch(() => []);
}

/** Looks at a log; with `also` beside those that are looked at already. */
export function choose(name: string, also = false): void {
  const had = chosen.value;
  const without = had.filter((n) => n !== name);
  chosen.value = also ? (had.includes(name) ? without : [...had, name]) : [name];
  if (also && had.length) return;
  channel.value = {};
  unit.value = {};
  void fetchColumns(name);
}

export async function fetchColumns(name: string): Promise<void> {
  columns.value = null;
  columnsSaid.value = "";
  try {
    const came = await got<LogColumns>(`/api/log/columns?${new URLSearchParams({ name })}`);
    if (chosen.value[0] === name) columns.value = came;
  } catch (error) {
    if (chosen.value[0] === name) columnsSaid.value = error instanceof Error ? error.message : String(error);
  }
}

/** What is asked of the chosen logs; names and units are the job's, where they were put before. */
export function readArgs(more: Record<string, unknown> = {}): Record<string, unknown> {
  const size = radius.value.trim();
  return { logs: [...chosen.value], ...(size ? { radius: size } : {}), ...more };
}

interface Change {
  key: string;
  value: string | null;
  before: string | null;
}

/** The job keeps another column for it, which this file does not have: another logger's. */
export const isOthers = (role: LogRole): boolean =>
  role.kept_column !== null && role.how !== "kept in the job" && role.column !== null;

/** What of a role is not yet as it is said here; another logger's name goes, and its unit with it. */
function changesOf(role: LogRole): Change[] {
  const found: Change[] = [];
  const others = isOthers(role);
  const column = channel.value[role.role] ?? (others ? role.column : undefined);
  const as = unit.value[role.role] ?? (others ? "" : undefined);
  if (column != null && column !== role.kept_column)
    found.push({ key: `logs.columns.${role.role}`, value: column || null, before: role.kept_column });
  if (as !== undefined && (as || null) !== role.kept_unit)
    found.push({ key: `logs.units.${role.role}`, value: as || null, before: role.kept_unit });
  return found;
}

/** Puts into the job what was said of the columns, for this log and the next. */
async function keepNames(): Promise<void> {
  const changes = (columns.value?.roles ?? []).flatMap(changesOf);
  if (!changes.length) return;
  await posted("/api/set", { changes, window: WINDOW });
  for (const { key, value } of changes) noteWritten({ key, typed: value, was: null, is: null });
  channel.value = {};
  unit.value = {};
  await fetchColumns(chosen.value[0]!);
}

/** What waits for its verdict before the network is held beside it. */
const then = signal<Record<string, unknown> | null>(null);

/** The verdict first, then the same with the network beside it. */
export async function readThem(): Promise<Refused | null> {
  try {
    await keepNames();
  } catch (error) {
    if (error instanceof Refused) return error;
    throw error;
  }
  then.value = beside.value ? readArgs() : null;
  return ask("read", readArgs({ prediction: false }));
}

effect(() => {
  const args = then.value;
  const quick = args && workOn("read", { ...args, prediction: false });
  if (!quick || quick.state === "waiting" || quick.state === "running") return;
  then.value = null;
  if (quick.state === "done") void ask("read", args);
});

const sameLogs = (w: Work, names: readonly string[]): boolean =>
  w.question === "read" && JSON.stringify(w.args["logs"]) === JSON.stringify(names);

/** Works on the chosen logs, the oldest first; filing is not one of them. */
export const reads = computed<readonly Work[]>(() =>
  work.value.filter((w) => sameLogs(w, chosen.value) && w.args["file"] !== true),
);

/** The latest answer on the chosen logs, the fuller one of the last reading. */
export const reading = computed<{ answer: ReadAnswer; work: Work; stale: boolean } | null>(() => {
  const found = reads.value
    .filter((w) => w.state === "done")
    .map((w) => answered<ReadAnswer>("read", w.args))
    .filter((a) => a !== null);
  const full = found.filter((a) => a.work.args["prediction"] !== false).at(-1);
  const quick = found.at(-1);
  if (!full || !quick) return full ?? quick ?? null;
  const { prediction: _, ...said } = quick.work.args;
  const same = JSON.stringify(said) === JSON.stringify(full.work.args) && quick.stale === full.stale;
  return same ? full : quick;
});
