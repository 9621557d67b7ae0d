// SPDX-License-Identifier: Apache-2.0
// What changes out of sight is read aloud: verdicts, undo, files that came in.

import { effect, signal, untracked } from "@preact/signals";
import { verdict } from "../state";

const said = signal("");
let turn = false;

/** Read aloud, after what is being read. */
export function announce(text: string): void {
  turn = !turn; // the same words twice are read twice only where the text differs
  said.value = turn ? text : `${text}\u200b`;
}

let before: string | null = null;
effect(() => {
  const now = verdict.value;
  if (!now || now.stale) return;
  const word = now.answer.verdict;
  if (before && before !== word) untracked(() => announce(`verdict: ${before} → ${word}`));
  before = word;
});

export function Spoken() {
  return (
    <div class="unseen" role="status" aria-live="polite">
      {said}
    </div>
  );
}
