// SPDX-License-Identifier: Apache-2.0
// What every part of the page looks at: the job, its answers, what runs. No part keeps a copy.

import { computed, effect, signal } from "@preact/signals";
import { answerOf, askWork, Line, Refused, serverState, WINDOW } from "./api";
import type {
  JobHead,
  Requirement,
  ServerState,
  Tilted,
  Told,
  UnitSystem,
  UnitTable,
  Work,
} from "./protocol";

export const units = signal<Record<UnitSystem, UnitTable>>({ metric: {}, us: {} });
export const version = signal("");
export const folder = signal<string | null>(null);
export const job = signal<JobHead | null>(null);
export const work = signal<readonly Work[]>([]);
/** Whether the line to the server is up. */
export const connected = signal(false);
/** False until the server has answered once. */
export const begun = signal(false);
/** Counts the changes that another window or program made to the job. */
export const outside = signal(0);
export const tilted = signal<Tilted | null>(null);

export const system = computed<UnitSystem>(() => job.value?.units ?? "metric");

/** The last answer of each question and its arguments, kept while the page is open. */
const answers = signal<ReadonlyMap<string, { work: Work; answer: unknown }>>(new Map());

export interface CheckAnswer {
  verdict: "met" | "not met" | "not judged";
  summary: string;
  input_hash: string;
  requirements: Requirement[];
  assumptions: string[];
  findings: { code: string; place: string; found: string; repair: string; severity: string }[];
  [more: string]: unknown;
}

/** The same arguments in one order, whatever order they were put in, all the way down. */
function ordered(value: unknown): unknown {
  if (value === null || typeof value !== "object" || Array.isArray(value)) return value;
  const rows = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(rows.map(([key, inner]) => [key, ordered(inner)]));
}

const named = (question: string, args: Record<string, unknown>): string =>
  `${question} ${JSON.stringify(ordered(args))}`;

/** Whether two works are of one question and the same arguments. */
export const isSame = (a: Work, b: Work): boolean =>
  named(a.question, a.args) === named(b.question, b.args);

/** The latest work on a question, running or not; null where it was never asked. */
export function workOn(question: string, args: Record<string, unknown> = {}): Work | null {
  const wanted = named(question, args);
  const all = work.value.filter((w) => named(w.question, w.args) === wanted);
  return all[all.length - 1] ?? null;
}

/** The latest finished answer, with whether it is stale. */
export function answered<T>(
  question: string,
  args: Record<string, unknown> = {},
): { answer: T; stale: boolean; work: Work } | null {
  const kept = answers.value.get(named(question, args));
  if (!kept) return null;
  const stale = kept.work.input_hash !== (job.value?.input_hash ?? null);
  return { answer: kept.answer as T, stale, work: kept.work };
}

/** The verdict: the whole check, or the static part where that is newer. */
export const verdict = computed(() => {
  const whole = answered<CheckAnswer>("check");
  const still = answered<CheckAnswer>("still");
  if (whole && (!whole.stale || !still || still.stale)) return { ...whole, whole: true };
  return still ? { ...still, whole: false } : null;
});

export const ledger = computed<Requirement[]>(() => verdict.value?.answer.requirements ?? []);

/** Ask a question; its answer comes through `answered`. The problem, where it is refused. */
export async function ask(
  question: string,
  args: Record<string, unknown> = {},
): Promise<Refused | null> {
  try {
    heard({ type: "work", work: await askWork(question, args) });
    return null;
  } catch (error) {
    if (error instanceof Refused) return error;
    throw error;
  }
}

async function fetchAnswer(done: Work): Promise<void> {
  const name = named(done.question, done.args);
  if (!done.key || answers.value.get(name)?.work.key === done.key) return;
  const answer = await answerOf(done.key);
  answers.value = new Map(answers.value).set(name, { work: done, answer });
}

function heard(told: Told): void {
  if (told.type === "work") {
    const others = work.value.filter((w) => w.id !== told.work.id);
    work.value = [...others, told.work];
    if (told.work.state === "done") void fetchAnswer(told.work);
  } else if (told.type === "job") {
    job.value = told.head;
    if (told.window !== WINDOW) outside.value += 1;
  } else if (told.type === "state") {
    take(told.state);
  } else {
    tilted.value = told;
  }
}

/** Everything anew, as after a lost line or another folder. */
export function take(state: ServerState): void {
  units.value = state.units;
  version.value = state.version;
  if (folder.value !== state.folder) answers.value = new Map();
  folder.value = state.folder;
  job.value = state.job;
  work.value = state.work;
  begun.value = true;
  for (const done of state.work) if (done.state === "done") void fetchAnswer(done);
}

export const line = new Line(heard, (is) => {
  connected.value = is;
  if (is) void serverState().then(take);
});

// A verdict is never asked for by hand: whenever the job's inputs change, so does it.
effect(() => {
  const hash = job.value?.input_hash;
  if (!hash || !connected.value) return;
  void ask("still").then(() => ask("check"));
});

/** `#/hold` is `hold`. */
export const operation = signal(location.hash.slice(2) || "numbers");
addEventListener("hashchange", () => (operation.value = location.hash.slice(2) || "numbers"));
