// SPDX-License-Identifier: Apache-2.0
// The foot of the card: what runs and how far it is, and what could not be done.

import { signal } from "@preact/signals";
import { Refused, stopWork } from "../api";
import type { Problem, Work } from "../protocol";
import { ask, isSame, job, work } from "../state";
import { announce } from "./announce";
import { workWords } from "./belongs";
import { byHand } from "./by_hand";
import { Mark } from "./Mark";
import { isBusy } from "./standing";

/** Where they are refused, their sheet says so, with every reason. */
const REFUSED_THERE = ["release", "make"];

/** Two steps to one verdict. */
const VERDICT = ["still", "check"];

const put = signal<ReadonlySet<string>>(new Set());

async function stop(of: Work): Promise<void> {
  try {
    await stopWork(of.id);
    announce(`${workWords(of.question, of.args)}: stopped`);
  } catch (error) {
    if (!(error instanceof Refused)) throw error; // else it had ended by itself
  }
}

function Busy({ of }: { of: Work }) {
  const words = workWords(of.question, of.args);
  const per = Math.round(100 * of.share);
  return (
    <li class="busy">
      <span class="busy-words">
        {words}
        <span class="quiet">{of.state === "waiting" ? "waits its turn" : of.text || "starts"}</span>
      </span>
      <button onClick={() => void stop(of)} aria-label={`Stop: ${words}`}>
        Stop
      </button>
      {of.state === "running" && <BusyBar words={words} per={per} />}
    </li>
  );
}

function BusyBar({ words, per }: { words: string; per: number }) {
  return (
    <span
      class="busy-bar"
      role="progressbar"
      aria-label={words}
      aria-valuenow={per}
      aria-valuemin={0}
      aria-valuemax={100}
    >
      <span class="busy-done" style={{ width: `${per}%` }} />
    </span>
  );
}

/** The first thing that is wrong, and how many more. */
function whyNot(problems: readonly Problem[]): string {
  const first = problems[0];
  if (!first) return "";
  const more = problems.length > 1 ? ` (and ${problems.length - 1} more)` : "";
  return `${byHand(first.where)}: ${first.found}; ${byHand(first.do)}${more}`;
}

function Stuck({ of }: { of: Work }) {
  const why = of.error ?? whyNot(of.problems);
  return (
    <li class="stuck">
      <Mark stand="failed" />
      <span class="busy-words">
        {workWords(of.question, of.args)}: {of.state === "stopped" ? "stopped" : "could not be done"}
        {why && <span class="quiet">{why}</span>}
      </span>
      <span class="tools">
        <button onClick={() => void ask(of.question, of.args)}>Again</button>
        <button class="plain" onClick={() => (put.value = new Set(put.value).add(of.id))}>
          Put away
        </button>
      </span>
    </li>
  );
}

/** The last word on a question, and not put away; what its own sheet says is left to it. */
function stuckNow(): Work[] {
  const all = work.value;
  return all.filter(
    (w, at) =>
      (w.state === "failed" || w.state === "stopped") &&
      !w.stale &&
      w.input_hash === (job.value?.input_hash ?? null) &&
      !put.value.has(w.id) &&
      !(REFUSED_THERE.includes(w.question) && w.problems.length > 0) &&
      !all.slice(at + 1).some((later) => isSame(w, later) || (w.question === "space" && later.question === "space")),
  );
}

export function Running() {
  const all = work.value.filter(isBusy);
  const first = all.find((w) => VERDICT.includes(w.question)); // the other waits for it, unsaid
  const busy = all.filter((w) => !VERDICT.includes(w.question) || w === first);
  busy.sort((a, b) => Number(b.state === "running") - Number(a.state === "running"));
  const stuck = stuckNow();
  if (!busy.length && !stuck.length) return null;
  const [latest, ...older] = stuck.reverse(); // more would push the operations out of sight
  return (
    <section class="running" aria-label="What runs">
      <ul>
        {busy.map((of) => (
          <Busy key={of.id} of={of} />
        ))}
        {latest && <Stuck key={latest.id} of={latest} />}
      </ul>
      {older.length > 0 && (
        <details>
          <summary>{older.length} more could not be done</summary>
          <ul>
            {older.map((of) => (
              <Stuck key={of.id} of={of} />
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}
