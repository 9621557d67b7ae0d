// SPDX-License-Identifier: Apache-2.0
// The route card that travels with the job. On a narrow window it folds to a strip of stamps.

import { signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { OPERATIONS } from "../operation";
import { connected, folder, job, operation, verdict } from "../state";
import { leave } from "../start/leave";
import { bringInSight } from "./bring";
import { Mark } from "./Mark";
import { Operations } from "./Operations";
import { Running } from "./Running";
import { isBusy, lastWork, stampOf, type Stand } from "./standing";
import { ThemeSwitch } from "./theme";
import { UndoButtons } from "./undo";

/** Whether the folded card is open; a wide window shows it always. */
export const unfolded = signal(false);

interface Said {
  stand: Stand;
  word: string;
  more: string;
}

function verdictSaid(): Said {
  const now = verdict.value;
  const busy = ["still", "check"].some((q) => {
    const last = lastWork(q);
    return last !== null && isBusy(last);
  });
  if (job.value?.problems.length) {
    return { stand: "not judged", word: "no verdict", more: "The job file has something to mend." };
  }
  if (!now) return { stand: busy ? "running" : "none", word: busy ? "at work" : "no verdict yet", more: "" };
  const { summary, verdict: word } = now.answer;
  if (now.stale) return { stand: busy ? "running" : "stale", word: `was ${word}`, more: "Numbers have changed since." };
  const more = now.whole ? summary : `${summary}, oil at rest${busy ? "; in motion: at work" : ""}`;
  return { stand: word, word, more };
}

export function VerdictLine() {
  const said = verdictSaid();
  return (
    <p class={`verdict is-${said.stand.replace(" ", "-")}`}>
      <Mark stand={said.stand} />
      <span>
        <strong>{said.word}</strong>
        {said.more && <span class="verdict-more">{said.more}</span>}
      </span>
    </p>
  );
}

function Strip() {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    bringInSight(place.current, place.current?.querySelector("[aria-current]"));
  }, [operation.value]);
  return (
    <div class="strip">
      <button
        class="strip-open"
        aria-expanded={unfolded.value}
        aria-controls="card"
        onClick={() => (unfolded.value = !unfolded.value)}
      >
        <Mark stand={verdictSaid().stand} />
        <span class="unseen">Verdict: {verdictSaid().word}.</span>
        {unfolded.value ? "Close" : "Card"}
      </button>
      <div class="strip-stamps" ref={place}>
        {OPERATIONS.map((of) => {
          const stamp = stampOf(of.id);
          return (
            <a
              key={of.id}
              href={`#/${of.id}`}
              class={`is-${stamp.stand.replace(" ", "-")}`}
              aria-current={operation.value === of.id ? "page" : undefined}
              aria-label={`${of.number} ${of.word}: ${stamp.word}`}
              onClick={() => (unfolded.value = false)}
            >
              <span>{of.word}</span>
              <Mark stand={stamp.stand} />
            </a>
          );
        })}
      </div>
    </div>
  );
}

function CardFoot() {
  const short = folder.value?.split(/[\\/]/).slice(-2).join("/");
  return (
    <div class="card-foot">
      <UndoButtons />
      <ThemeSwitch />
      <p class="card-folder">
        <span title={folder.value ?? ""}>{short}</span>
        <button class="plain" onClick={leave}>
          Other job
        </button>
      </p>
    </div>
  );
}

export function Card() {
  const head = job.value;
  return (
    <header class={`card ${unfolded.value ? "is-unfolded" : ""}`}>
      <Strip />
      <div class="card-body" id="card">
        <div class="card-scroll">
          <div class="card-head">
            <p class="card-job">{head?.name}</p>
            <p class="card-revision">
              Revision <b>{head?.revision || "–"}</b>
              {!connected.value && <span class="card-line">line lost</span>}
            </p>
            <VerdictLine />
          </div>
          <Operations chosen={() => (unfolded.value = false)} />
          <CardFoot />
        </div>
        <Running />
      </div>
    </header>
  );
}
