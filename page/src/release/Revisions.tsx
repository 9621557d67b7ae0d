// SPDX-License-Identifier: Apache-2.0
// From one revision to the next: what was typed differently, and what came of it.

import { useEffect } from "preact/hooks";
import { Asking } from "../prove/Asking";
import { records } from "../prove/records";
import { shown } from "../shown";
import { answered, ask, job, workOn } from "../state";
import { Fits } from "./Fits";
import type { HistoryAnswer, Step } from "./release_answer";
import { Wide } from "../prove/Wide";

function Figures({ step }: { step: Step }) {
  if (!step.figures.length) return step.why_no_figures ? <p class="quiet">No figures: {step.why_no_figures}.</p> : null;
  return (
    <Wide of="What came out">
      <table>
        <thead>
          <tr>
            <th scope="col">What came out</th>
            <th scope="col" class="num">
              {step.before}
            </th>
            <th scope="col" class="num">
              {step.after}
            </th>
            <th scope="col" class="num">
              by
            </th>
          </tr>
        </thead>
        <tbody>
          {step.figures.map((f) => (
            <tr key={f.name}>
              <th scope="row">{f.name}</th>
              <td class="num">{shown(f.before, f.kind)}</td>
              <td class="num">
                <b>{shown(f.after, f.kind)}</b>
              </td>
              <td class="num">{shown(f.after - f.before, f.kind, true)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Wide>
  );
}

function Changes({ step }: { step: Step }) {
  return (
    <details>
      <summary>{step.changes.length} numbers typed differently</summary>
      <Wide of="What was typed">
        <table class="changes">
          <thead>
            <tr>
              <th scope="col">Key</th>
              <th scope="col">In {step.before}</th>
              <th scope="col">In {step.after}</th>
            </tr>
          </thead>
          <tbody>
            {step.changes.map((c) => (
              <tr key={c.key}>
                <th scope="row">
                  <code>{c.key}</code>
                </th>
                <td>{c.before || <span class="quiet">–</span>}</td>
                <td>{c.after || <span class="quiet">–</span>}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Wide>
    </details>
  );
}

/** What was filed of prototypes when it was asked last: one more asks for another look. */
let seen = "";

function useHistory(): void {
  const hash = job.value?.input_hash;
  const filed = records.value?.filed.filter((r) => r.kind === "fit").map((r) => r.name).join() ?? null;
  useEffect(() => {
    if (!hash || filed === null) return;
    const work = workOn("history");
    if (work && work.input_hash === hash && seen === filed) return;
    seen = filed;
    void ask("history");
  }, [hash, filed]);
}

export function Revisions() {
  useHistory();
  const found = answered<HistoryAnswer>("history");
  if (!found) return <Asking question="history" words="Look through the revisions" doing="Looking through the revisions" />;
  const { steps, revision, fits } = found.answer;
  const left = new Set(steps.map((step) => step.before));
  const since = fits.filter((fit) => !left.has(fit.revision));
  return (
    <>
      {!steps.length && <p>Revision {revision} is the first: nothing was left behind yet.</p>}
      {since.length > 0 && (
        <section class="step" aria-label={`Prototypes of revision ${revision}`}>
          <h3>{revision}, as it is now</h3>
          <Fits fits={since} />
        </section>
      )}
      {[...steps].reverse().map((step) => (
        <section key={step.before + step.after} class="step" aria-label={`${step.before} to ${step.after}`}>
          <h3>
            {step.before} → {step.after}
            {step.kept && <span class="quiet step-when"> {step.before} kept {step.kept.slice(0, 10)}</span>}
          </h3>
          <Fits fits={fits.filter((fit) => fit.revision === step.before)} />
          <Figures step={step} />
          <Changes step={step} />
        </section>
      ))}
    </>
  );
}
