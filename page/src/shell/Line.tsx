// SPDX-License-Identifier: Apache-2.0
// One line of the ledger: what was found, what is asked, how much is to spare; the rest on demand.

import type { Requirement } from "../protocol";
import { shownLedger } from "../shown";
import { verdict } from "../state";
import { Inputs } from "./Inputs";
import { Mark } from "./Mark";
import { Said } from "./Said";
import { share, type Entry } from "./standing";

/** Half of what is asked to spare, or missing, fills its side of the bar. */
const FULL = 0.5;

/** To the right of the middle there is some to spare, to the left some is missing. */
export function MarginBar({ line }: { line: Requirement }) {
  const part = share(line);
  if (part === null) return <span class="bar-room" />;
  const long = Math.max(1.5, Math.min(1, Math.abs(part) / FULL) * 38);
  return (
    <svg class={`bar ${part < 0 ? "is-short" : ""}`} viewBox="0 0 80 16" aria-hidden="true">
      <path class="bar-axis" d="M1 8h78" />
      <rect x={part < 0 ? 40 - long : 40} y="3" width={long} height="10" />
      {part < 0 && <path class="bar-gap" d={stripes(40 - long, 40)} />}
      <path class="bar-limit" d="M40 0v16" />
    </svg>
  );
}

/** What is missing is hatched, so that it is seen without its colour. */
function stripes(from: number, to: number): string {
  let path = "";
  for (let x = from + 3; x < to; x += 5) path += `M${x} 3l-2 10`;
  return path;
}

const limitWord = (line: Requirement): string => (line.at_most ? "at most" : "at least");

function Figures({ line }: { line: Requirement }) {
  if (line.value === null) {
    const asked = line.limit === null ? "" : `, ${limitWord(line)} ${shownLedger(line.limit, line)} asked`;
    return (
      <span class="line-needs">
        {line.state}
        {asked || (line.reason && `: ${line.reason.replaceAll("`", "")}`)}
      </span>
    );
  }
  return (
    <span class="line-figures">
      <b>{shownLedger(line.value, line)}</b>
      <span class="quiet">
        {limitWord(line)} {shownLedger(line.limit, line)}
      </span>
      <MarginBar line={line} />
      <span class="line-margin">
        <span class="unseen">margin </span>
        {shownLedger(line.margin, line, true)}
      </span>
    </span>
  );
}

function Why({ line, stale }: { line: Requirement; stale: boolean }) {
  const of = verdict.value?.answer;
  return (
    <div class="line-why">
      {line.reason && (
        <p>
          <Said text={line.reason} go />
        </p>
      )}
      <dl>
        <dt>How</dt>
        <dd>{line.formula || "Not computed: see the reason."}</dd>
        <dt>Source</dt>
        <dd>{line.source || "–"}</dd>
        <dt>Found for</dt>
        <dd>
          {stale ? "numbers that have changed since" : "the numbers as they are typed now"}
          {of && `, revision ${String(of["revision"])}`}
        </dd>
      </dl>
      <Inputs id={line.id} />
    </div>
  );
}

export function LedgerLine({ line, stale }: Entry) {
  return (
    <details class={`line is-${line.state.replace(" ", "-")} ${stale ? "is-stale" : ""}`}>
      <summary>
        <Mark stand={stale ? "stale" : line.state} />
        <span class="line-words">
          {line.statement}
          <span class="unseen">: {stale ? `${line.state}, out of date` : line.state}.</span>
        </span>
        <Figures line={line} />
      </summary>
      <Why line={line} stale={stale} />
    </details>
  );
}
