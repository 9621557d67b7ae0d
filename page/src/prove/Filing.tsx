// SPDX-License-Identifier: Apache-2.0
// A log counts for the release once it is filed; that is done by hand, once, for this part.

import { useEffect } from "preact/hooks";
import { Mark } from "../shell/Mark";
import { workOn } from "../state";
import { Asking } from "./Asking";
import type { ReadAnswer } from "./read_answer";
import { chosen, radius } from "./reading";
import { listRecords, records, type Listed } from "./records";

/** The record of these very logs, for this part. */
function filedAs(answer: ReadAnswer): Listed | undefined {
  const wanted = answer.files.map(([, sha]) => sha).sort().join();
  return records.value?.filed.find(
    (r) =>
      r.kind === "log" &&
      r.part_hash === answer.part_hash &&
      r.files.map((f) => f.sha256).sort().join() === wanted,
  );
}

export function Filing({ answer }: { answer: ReadAnswer }) {
  const size = radius.value.trim();
  const args = { logs: [...chosen.value], ...(size ? { radius: size } : {}), prediction: false, file: true };
  const done = workOn("read", args);
  useEffect(() => void listRecords(), [done?.id, done?.state, answer]);
  const filed = filedAs(answer);
  if (filed) {
    return (
      <p class="filed">
        <Mark stand={filed.standing === "counts" ? "met" : "stale"} /> Filed as <code>{filed.name}</code>,{" "}
        {filed.standing === "counts" ? "counts for this part" : filed.why}.
      </p>
    );
  }
  if (!records.value) return null;
  return (
    <div class="on-screen">
      {answer.filing && <p class="note">{capital(answer.filing)}</p>}
      <Asking question="read" args={args} words="File it as a record" doing="Filing it">
        <span class="quiet">Once, for this part; the release asks for it.</span>
      </Asking>
      {done?.state === "done" && !answer.filing && (
        <p class="note">It was not filed: too little of it could be judged.</p>
      )}
    </div>
  );
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
