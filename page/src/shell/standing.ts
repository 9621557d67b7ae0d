// SPDX-License-Identifier: Apache-2.0
// Where each operation stands: its ledger lines out of every answer there is, and its stamp.

import { computed } from "@preact/signals";
import type { Problem, Requirement, Work } from "../protocol";
import { answered, job, verdict, work, workOn, type CheckAnswer } from "../state";
import { inMotion, isSeen, operationOf, questionsOf } from "./belongs";

export interface Entry {
  line: Requirement;
  /** Found for numbers that have changed since */
  stale: boolean;
}

export type Stand = "met" | "not met" | "not judged" | "stale" | "running" | "failed" | "none";

export interface Stamp {
  stand: Stand;
  word: string;
}

/** The last work on a question whatever its arguments. */
export function lastWork(question: string): Work | null {
  const all = work.value.filter((w) => w.question === question);
  return all[all.length - 1] ?? null;
}

const STATES = ["not met", "not judged"] as const;

/** A release that is refused names each requirement that is open, in words only. */
function openLine(problem: Problem): Requirement | null {
  const id = problem.where.startsWith("requirements.") ? problem.where.slice(13) : null;
  const state = STATES.find((s) => problem.found.startsWith(s));
  if (!id || !state) return null;
  const reason = problem.found.slice(state.length).replace(/^: /, "");
  const none = { limit: null, value: null, margin: null, unit: "-", kind: "count" };
  return { id, statement: problem.needed, state, reason, source: "", formula: "", at_most: false, ...none };
}

function seenEntries(): Entry[] {
  const asked = lastWork("release");
  if (!asked) return [];
  const stale = asked.stale || (asked.input_hash !== null && asked.input_hash !== job.value?.input_hash);
  if (asked.state === "failed") {
    const open = asked.problems.map(openLine).filter((l) => l !== null);
    return open.filter((l) => isSeen(l.id)).map((line) => ({ line, stale }));
  }
  const found = answered<CheckAnswer>("release", asked.args);
  const lines = found?.answer.requirements ?? [];
  return lines.filter((l) => isSeen(l.id)).map((line) => ({ line, stale: stale || !!found?.stale }));
}

/** The whole ledger: a newer static verdict first, then what only an older, whole one knows. */
export const entries = computed<Entry[]>(() => {
  const now = verdict.value;
  const fresh: Entry[] = (now?.answer.requirements ?? []).map((line) => ({ line, stale: now!.stale }));
  const has = new Set(fresh.map((e) => e.line.id));
  const whole = answered<CheckAnswer>("check")?.answer.requirements ?? [];
  const older = whole.filter((l) => inMotion(l.id) && !has.has(l.id));
  const kept = now?.whole ? [] : older.map((line) => ({ line, stale: true }));
  return [...fresh, ...kept, ...seenEntries()];
});

const RANK = { "not met": 0, "not judged": 1, met: 2 };

/** Lines of one operation: what fails first, then what has least to spare. */
export function entriesOf(operation: string): Entry[] {
  const own = entries.value.filter((e) => operationOf(e.line.id) === operation);
  return own.sort(
    (a, b) => RANK[a.line.state] - RANK[b.line.state] || (share(a.line) ?? 9) - (share(b.line) ?? 9),
  );
}

/** Margin as a share of the larger of limit and value, -1 to 1; null where there is none. */
export function share(line: Requirement): number | null {
  if (line.margin === null || line.limit === null || line.value === null) return null;
  const whole = Math.max(Math.abs(line.limit), Math.abs(line.value));
  return whole > 0 ? Math.max(-1, Math.min(1, line.margin / whole)) : 0;
}

export const isBusy = (w: Work): boolean => w.state === "running" || w.state === "waiting";

function busyOn(operation: string): Work | null {
  const asked = questionsOf(operation);
  return work.value.find((w) => isBusy(w) && asked.includes(w.question)) ?? null;
}

/** What is typed: mended or not. */
function numbersStamp(): Stamp {
  const wrong = job.value?.problems.length ?? 0;
  if (!job.value) return { stand: "none", word: "no job" };
  return wrong ? { stand: "not met", word: `${wrong} to mend` } : { stand: "met", word: "can be read" };
}

function releaseStamp(): Stamp | null {
  const asked = lastWork("release");
  if (asked?.state === "failed" && asked.problems.length)
    return { stand: "not met", word: `${asked.problems.length} open` };
  const found = asked && answered("release", asked.args);
  if (!found) return null;
  return found.stale ? { stand: "stale", word: "out of date" } : { stand: "met", word: "all seen" };
}

function failedOn(operation: string): boolean {
  const hash = job.value?.input_hash;
  return ["still", "check"].some((question) => {
    const last = questionsOf(operation).includes(question) ? workOn(question) : null;
    return last?.state === "failed" && !last.stale && !!hash;
  });
}

function waitingFor(operation: string, own: Entry[]): boolean {
  const busy = busyOn(operation);
  if (!busy) return false;
  return !["still", "check"].includes(busy.question) || own.length === 0 || own.some((e) => e.stale);
}

function lineStamp(own: Entry[]): Stamp {
  const count = (state: string) => own.filter((e) => e.line.state === state).length;
  const wrong = count("not met");
  if (own.some((e) => e.stale)) return { stand: "stale", word: "out of date" };
  if (wrong) return { stand: "not met", word: own.length > 1 ? `${wrong} not met` : "not met" };
  const open = count("not judged");
  if (open === own.length) return { stand: "not judged", word: "not judged" };
  return open ? { stand: "met", word: `met, ${open} open` } : { stand: "met", word: "met" };
}

/** Operations whose answers have verdicts of their own, outside the ledger. */
const MADE: readonly string[] = ["shape", "make"];

/** Of everything that was asked there for the job as it is: what fails comes first. */
function madeStamp(operation: string): Stamp {
  const refused = operation === "make" ? lastWork("make") : null;
  if (refused?.state === "failed" && !refused.stale && refused.problems.length) return { stand: "not met", word: "refused" };
  const found = questionsOf(operation).map((question) => {
    const last = work.value.filter((w) => w.question === question && w.state === "done").at(-1);
    return answered<{ verdict?: string }>(question, last?.args); // whatever way it was asked last
  });
  const fresh = found.filter((f) => f !== null && !f.stale);
  const fails = fresh.filter((f) => f?.answer.verdict === "not met").length;
  if (fails) return { stand: "not met", word: fails > 1 ? `${fails} not met` : "not met" };
  if (fresh.length) return { stand: "met", word: `${fresh.length} of ${found.length} met` };
  return found.some((f) => f) ? { stand: "stale", word: "out of date" } : { stand: "none", word: "not asked" };
}

/** The stamp on the card: always a shape and a word. */
export function stampOf(operation: string): Stamp {
  if (operation === "numbers") return numbersStamp();
  const own = entriesOf(operation);
  if (waitingFor(operation, own)) {
    const fresh = own.filter((e) => !e.stale);
    const fails = fresh.some((e) => e.line.state === "not met"); // certain, whatever else comes
    return fails ? lineStamp(fresh) : { stand: "running", word: "at work" };
  }
  if (failedOn(operation)) return { stand: "failed", word: "stuck" };
  const released = operation === "release" ? releaseStamp() : null;
  if (released) return released;
  if (!own.length && MADE.includes(operation)) return madeStamp(operation);
  return own.length ? lineStamp(own) : { stand: "none", word: "not asked" };
}
