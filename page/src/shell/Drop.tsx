// SPDX-License-Identifier: Apache-2.0
// The whole window takes files: geometry and logs, told apart by their ending.

import { signal, useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { save } from "../numbers/draft";
import { fieldsByKey } from "../numbers/form";
import { shown } from "../shown";
import { job } from "../state";
import { arrivals, bringIn, putAway, type Arrival } from "./arrive";
import { Mark } from "./Mark";
import { ProblemText } from "./Problems";

const over = signal(false);
const hasFiles = (event: DragEvent): boolean => event.dataTransfer?.types.includes("Files") ?? false;

/** Counts what was entered and left, as every part of the page says it of itself. */
function listen(): () => void {
  let depth = 0;
  const still = () => {
    depth = 0;
    over.value = false;
  };
  const on: [string, (event: DragEvent) => void][] = [
    ["dragenter", (e) => hasFiles(e) && (depth += 1) && (over.value = true)],
    ["dragleave", (e) => hasFiles(e) && (depth -= 1) <= 0 && still()],
    ["dragover", (e) => hasFiles(e) && e.preventDefault()],
    ["drop", (e) => {
      if (!hasFiles(e)) return;
      e.preventDefault(); // else the browser would go to the file and leave the page
      still();
      if (job.value) void bringIn([...(e.dataTransfer?.files ?? [])]);
    }],
    ["sumpwright-dropped", still],
  ];
  for (const [name, hear] of on) addEventListener(name, hear as EventListener);
  return () => on.forEach(([name, hear]) => removeEventListener(name, hear as EventListener));
}

function UseAs({ name }: { name: string }) {
  const key = useSignal("");
  const places = [...fieldsByKey.value.values()].filter((field) => field.kind === "file");
  if (!places.length) return null;
  return (
    <p class="tools">
      <label>
        Use it as{" "}
        <select value={key.value} onChange={(e) => (key.value = (e.target as HTMLSelectElement).value)}>
          <option value="">choose …</option>
          {places.map((field) => (
            <option key={field.key} value={field.key}>
              {field.label} ({field.key})
            </option>
          ))}
        </select>
      </label>
      <button disabled={!key.value} onClick={() => void save(key.value, name)}>
        Put it in the job
      </button>
    </p>
  );
}

function Here({ of }: { of: Arrival }) {
  const { name, findings = [], measure } = of.came!;
  return (
    <>
      <p>
        Now <code>{name}</code> in the job folder
        {of.key && (
          <>
            , and in the job as <code>{of.key}</code>
          </>
        )}
        .
      </p>
      {measure && (
        <p>
          Holds {shown(measure.volume_m3, "volume")}, {measure.watertight ? "closed" : "not closed"},{" "}
          {measure.bodies === 1 ? "one body" : `${measure.bodies} bodies`}, {measure.triangles} triangles.
        </p>
      )}
      {findings.map((f) => (
        <p class="note" key={f.code + f.place}>
          <b>{f.found}</b> {f.place && `(${f.place})`} {f.repair} <span class="quiet">[{f.code}]</span>
        </p>
      ))}
      {of.as === "geometry" && !of.key && <UseAs name={name} />}
      {of.as === "log" && (
        <p>
          <a href="#/prove">Read it in 50 Prove</a>
        </p>
      )}
    </>
  );
}

function One({ of }: { of: Arrival }) {
  const stand = of.state === "here" ? "met" : of.state === "refused" ? "not met" : "running";
  return (
    <li>
      <p class="arrival-head">
        <Mark stand={stand} />
        <b>{of.file}</b> {of.state}
        <button class="plain" onClick={() => putAway(of.id)} aria-label={`Put away: ${of.file}`}>
          Put away
        </button>
      </p>
      {of.came && <Here of={of} />}
      {of.said && <p class="problem">{of.said}</p>}
      {of.problems.map((problem) => (
        <ProblemText key={problem.where} problem={problem} />
      ))}
    </li>
  );
}

export function Drop() {
  useEffect(listen, []);
  return (
    <>
      {over.value && (
        <div class="drop" aria-hidden="true">
          <p>{job.value ? "Let go: geometry and logs go into the job folder" : "Open a job first"}</p>
          <p class="drop-kinds">STEP STL 3MF PLY · CSV MF4</p>
        </div>
      )}
      {arrivals.value.length > 0 && (
        <section class="notice arrivals on-screen" aria-label="Files that came in">
          <ul>
            {arrivals.value.map((of) => (
              <One key={of.id} of={of} />
            ))}
          </ul>
        </section>
      )}
    </>
  );
}
