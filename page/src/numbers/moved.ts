// SPDX-License-Identifier: Apache-2.0
// What one changed number did to the verdict: said beside the field that was changed.

import { effect, signal, untracked } from "@preact/signals";
import type { Requirement } from "../protocol";
import { shownLedger } from "../shown";
import { job, ledger, verdict } from "../state";

export interface Moved {
  key: string;
  /** null while it is being found */
  verdict: { before: string; after: string; whole: boolean } | null;
  lines: string[];
}

interface Watched {
  key: string;
  from: string | null;
  /** The inputs that the change made; null until they are told */
  to: string | null;
  before: string;
  lines: Map<string, Requirement>;
}

export const moved = signal<Moved | null>(null);
let watched: Watched | null = null;

/** From now on, tell what the next verdict makes of a change at `key`. */
export function watchVerdict(key: string): void {
  const now = verdict.value;
  watched = {
    key,
    from: job.value?.input_hash ?? null,
    to: null,
    before: now?.answer.verdict ?? "no verdict",
    lines: new Map(ledger.value.map((line) => [line.id, line])),
  };
  moved.value = null;
}

const MOST = 4;

function told(line: Requirement, before: Requirement | undefined): string | null {
  if (!before || before.state !== line.state) {
    return `${line.statement}: ${before?.state ?? "not asked"} → ${line.state}`;
  }
  if (line.value === null || before.value === null) return null;
  const [was, is] = [shownLedger(before.value, before), shownLedger(line.value, line)];
  return was === is ? null : `${line.statement}: ${was} → ${is}`;
}

/** What turned first, then what moved. */
function lines(before: Map<string, Requirement>): string[] {
  const now = ledger.value.map((line) => ({ line, text: told(line, before.get(line.id)) }));
  const turned = now.filter((n) => before.get(n.line.id)?.state !== n.line.state);
  const rest = now.filter((n) => !turned.includes(n));
  const all = [...turned, ...rest].map((n) => n.text).filter((t) => t !== null);
  return all.length > MOST ? [...all.slice(0, MOST), `and ${all.length - MOST} more on the card`] : all;
}

effect(() => {
  const now = verdict.value;
  const hash = job.value?.input_hash ?? null;
  untracked(() => {
    if (!watched || hash === watched.from) return;
    watched.to ??= hash;
    if (hash !== watched.to) {
      [watched, moved.value] = [null, null]; // changed again, elsewhere
      return;
    }
    if (!now || now.stale) {
      moved.value = { key: watched.key, verdict: null, lines: [] };
      return;
    }
    const after = now.answer.verdict;
    const both = { before: watched.before, after, whole: now.whole };
    moved.value = { key: watched.key, verdict: both, lines: lines(watched.lines) };
  });
});
