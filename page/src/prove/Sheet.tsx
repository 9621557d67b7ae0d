// SPDX-License-Identifier: Apache-2.0
// 50 Prove: the test day before it is driven, and the log after.

import { signal } from "@preact/signals";
import { job } from "../state";
import { Programme } from "./Programme";
import "./prove.css";
import { Reader } from "./Reader";

type Part = "run" | "log";

/** Which half is open; kept while the page is. */
export const part = signal<Part>("run");

const PARTS: readonly [Part, string][] = [
  ["run", "What do I run?"],
  ["log", "What did the log say?"],
];

export default function Sheet() {
  if (!job.value) return null;
  return (
    <div class="prove-sheet">
      <header class="sheet-head">
        <h1>Prove</h1>
        <p class="lead">Bench first, then slow to fast, both ways round; then the log beside the prediction.</p>
      </header>
      <p class="halves on-screen" role="group" aria-label="Test day or log">
        {PARTS.map(([id, words]) => (
          <button key={id} aria-pressed={part.value === id} onClick={() => (part.value = id)}>
            {words}
          </button>
        ))}
      </p>
      {part.value === "run" ? <Programme /> : <Reader />}
    </div>
  );
}
