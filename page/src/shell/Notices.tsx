// SPDX-License-Identifier: Apache-2.0
// What a person has to know before the sheet: a lost line, a file changed by others, one to mend.

import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { changes, form, loadOffered, offered } from "../numbers/form";
import type { Problem } from "../protocol";
import { begun, connected, job, operation } from "../state";
import { announce } from "./announce";
import { ProblemList } from "./Problems";
import { lastWork } from "./standing";

const GRACE = 1200; // ms; a line that is down for a blink is not worth a word
const lost = signal(false);

function LostLine() {
  useEffect(() => {
    if (connected.value) {
      if (lost.value) announce("The line to the server is back.");
      lost.value = false;
      return;
    }
    const timer = setTimeout(() => {
      lost.value = true;
      announce("The line to the server is lost.");
    }, GRACE);
    return () => clearTimeout(timer);
  }, [connected.value]);
  if (!lost.value) return null;
  return (
    <section class="notice is-lost" aria-label="Line lost">
      <h2>The line to the server is lost</h2>
      <p>
        This page tries again by itself, and what you typed stays here. If it does not come back, look
        whether <code>sumpwright open</code> still runs, and open the address that it prints.
        {begun.value && " What runs in it goes on; finished answers are kept."}
      </p>
    </section>
  );
}

function Difference() {
  const found = changes(form.value, offered.value);
  return (
    <div class="scroll">
      <table>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">Here</th>
            <th scope="col">In the file now</th>
          </tr>
        </thead>
        <tbody>
          {found.map((change) => (
            <tr key={change.key}>
              <th scope="row">
                {change.label} <span class="quiet">{change.key}</span>
              </th>
              <td>{change.before ?? "–"}</td>
              <td>{change.after ?? "–"}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function ChangedOutside() {
  if (!offered.value) return null;
  return (
    <section class="notice" role="status" aria-label="Changed outside">
      <h2>job.yaml was changed outside this window</h2>
      <p>
        The verdict is for the file as it is now. The sheet of numbers shows what you saw before, until you
        take the new ones in. Nothing of theirs is written over unasked.
      </p>
      <details>
        <summary>Show what changed</summary>
        <Difference />
      </details>
      <button class="main" onClick={loadOffered}>
        Take them in
      </button>
    </section>
  );
}

/** Of the file as it is typed, or else of what the verdict met in it. */
function toMend(): readonly Problem[] {
  const typed = job.value?.problems ?? [];
  if (typed.length) return typed;
  const last = lastWork("still");
  const now = last?.state === "failed" && last.input_hash === job.value?.input_hash;
  return now ? last.problems : [];
}

/** All of it on the sheet of numbers, where it is mended; elsewhere only that there is something. */
function ToMend() {
  const problems = toMend();
  if (!problems.length) return null;
  const many = problems.length === 1 ? "one thing" : `${problems.length} things`;
  return (
    <section class="notice is-wrong" aria-label="To mend in the job">
      <h2>The job has {many} to mend</h2>
      {operation.value === "numbers" ? (
        <>
          <p>Until then no verdict can be found. The rest of the job is as you typed it.</p>
          <ProblemList problems={problems} />
        </>
      ) : (
        <p>
          Until then no verdict can be found. <a href="#/numbers">See 00 Numbers</a>
        </p>
      )}
    </section>
  );
}

export function Notices() {
  return (
    <div class="notices on-screen">
      <LostLine />
      <ChangedOutside />
      <ToMend />
    </div>
  );
}
