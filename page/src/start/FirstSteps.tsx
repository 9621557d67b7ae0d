// SPDX-License-Identifier: Apache-2.0
// First run: four things to do once, each on the real job. A step that is done is not shown again.

import { effect, signal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { written } from "../numbers/draft";
import { goTo } from "../numbers/goal";
import { lastWork } from "../shell/standing";
import { job, tilted } from "../state";
import { kept, keep } from "./kept";

interface Step {
  id: string;
  isDone: () => boolean;
  says: ComponentChildren;
}

const STEPS: readonly Step[] = [
  {
    id: "number",
    isDone: () => written.value !== null,
    says: (
      <>
        Change a number: put the{" "}
        <button class="plain in-line" onClick={() => goTo("oil.fill")}>
          oil fill
        </button>{" "}
        down by a tenth, press Enter, and see what the verdict makes of it. Undo is on the card.
      </>
    ),
  },
  {
    id: "tilt",
    isDone: () => tilted.value !== null,
    says: (
      <>
        Tilt the oil: open <a href="#/hold">20 Hold</a> and drag over the round pad.
      </>
    ),
  },
  {
    id: "drive",
    isDone: () => lastWork("drive")?.state === "done",
    says: (
      <>
        Drive it: open <a href="#/drive">30 Drive</a> and let a manoeuvre play.
      </>
    ),
  },
  {
    id: "log",
    isDone: () => lastWork("read")?.state === "done",
    says: (
      <>
        Read a log: drop one anywhere on this window, or choose one in <a href="#/prove">50 Prove</a>.
      </>
    ),
  },
];

const done = signal<ReadonlySet<string>>(new Set(kept("steps").split(" ").filter(Boolean)));
const away = signal(kept("steps-away") === "yes");

effect(() => {
  const now = STEPS.filter((s) => !done.value.has(s.id) && s.isDone());
  if (!now.length) return;
  done.value = new Set([...done.value, ...now.map((s) => s.id)]);
  keep("steps", [...done.value].join(" "));
});

function putAway(): void {
  away.value = true;
  keep("steps-away", "yes");
}

export function FirstSteps() {
  const at = STEPS.findIndex((step) => !done.value.has(step.id));
  const next = STEPS[at];
  if (away.value || !next || !job.value?.input_hash) return null;
  return (
    <aside class="first-steps on-screen" aria-label="To begin with">
      <ol class="first-ticks" aria-label={`${done.value.size} of ${STEPS.length} done`}>
        {STEPS.map((step) => (
          <li key={step.id} class={done.value.has(step.id) ? "is-done" : step === next ? "is-next" : ""} />
        ))}
      </ol>
      <p>{next.says}</p>
      <button class="plain" onClick={putAway}>
        Put away
      </button>
    </aside>
  );
}
