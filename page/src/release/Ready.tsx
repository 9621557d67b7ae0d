// SPDX-License-Identifier: Apache-2.0
// Everything asked for has its evidence: the torque is typed, the dossier written.

import { useSignal } from "@preact/signals";
import { Asking } from "../prove/Asking";
import { Files } from "../prove/Printing";
import { Mark } from "../shell/Mark";
import { shownLedger } from "../shown";
import { workOn } from "../state";
import type { ReleaseAnswer } from "./release_answer";
import { Wide } from "../prove/Wide";

function Evidence({ answer }: { answer: ReleaseAnswer }) {
  const seen = answer.requirements.filter((r) => r.id.startsWith("proof_"));
  return (
    <details>
      <summary>
        All {answer.requirements.length} requirements, {answer.records.length} records
      </summary>
      <Wide of="Requirements">
        <table>
          <thead>
            <tr>
              <th scope="col">Requirement</th>
              <th scope="col" class="num">
                Found
              </th>
              <th scope="col" class="num">
                Asked
              </th>
              <th scope="col">Evidence</th>
            </tr>
          </thead>
          <tbody>
            {[...seen, ...answer.requirements.filter((r) => !seen.includes(r))].map((r) => (
              <tr key={r.id}>
                <th scope="row">
                  <span class="met-line">
                    <Mark stand={r.state} /> {r.statement}
                  </span>
                </th>
                <td class="num">{shownLedger(r.value, r)}</td>
                <td class="num">{shownLedger(r.limit, r)}</td>
                <td>{seen.includes(r) ? r.formula : "computed"}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Wide>
    </details>
  );
}

export function Ready({ answer }: { answer: ReleaseAnswer }) {
  const torque = useSignal("");
  const typed = torque.value.trim();
  const args = { question: "release", args: typed ? { torque: typed } : {} };
  const work = workOn("print", args);
  return (
    <>
      <p class="log-verdict" role="status">
        <Mark stand="met" /> <span>Revision {answer.revision}: everything asked for has its evidence.</span>
      </p>
      <Evidence answer={answer} />
      {answer.photos.some((p) => !p.unchanged) && (
        <p class="problem">A photo is not the one that was filed: see 60 Strip.</p>
      )}
      <div class="release-key">
        <label>
          Torque of the pan's bolts, as the fitting sheet is to say it
          <input
            value={torque.value}
            placeholder="such as 10 Nm, crosswise"
            maxLength={200}
            onInput={(e) => (torque.value = (e.target as HTMLInputElement).value)}
          />
        </label>
        <p class="quiet">From whoever makes the engine; nothing here computes it. Empty: the sheet leaves a line for it.</p>
        <Asking
          question="print"
          args={args}
          words={`Release revision ${answer.revision}`}
          doing="Writing the dossier"
          again="Write the dossier again"
          main
        />
        {work?.state === "done" && (
          <>
            <p class="filed" role="status">
              <Mark stand={work.stale ? "stale" : "met"} />{" "}
              {work.stale ? "Written for numbers that have changed since." : `Revision ${answer.revision} is released: the dossier with its fill sheet, dipstick marks and fitting sheet.`}
            </p>
            <Files files={work.files} />
          </>
        )}
      </div>
    </>
  );
}
