// SPDX-License-Identifier: Apache-2.0
// 60 Strip: what the bench, the session and the teardown said, filed once for the part it was seen on.

import { useEffect } from "preact/hooks";
import { useAsked } from "../prove/Asking";
import { Cautions } from "../prove/Cautions";
import "../prove/prove.css";
import { listRecords, records } from "../prove/records";
import { Mark } from "../shell/Mark";
import { job, outside } from "../state";
import { Expected } from "./Expected";
import { Filed } from "./Filed";
import { KINDS, nameOf, open } from "./form";
import { RecordForm } from "./RecordForm";
import "./strip.css";

/** How many of a kind count for this part, or that those there are of another. */
function standingOf(kind: string): { stand: "met" | "stale" | "none"; word: string } {
  const own = records.value?.filed.filter((r) => r.kind === kind) ?? [];
  const counts = own.filter((r) => r.standing === "counts").length;
  if (counts) return { stand: "met", word: `${counts} filed` };
  return own.some((r) => r.standing === "stale") ? { stand: "stale", word: "of another part" } : { stand: "none", word: "none yet" };
}

const TOPICS: Record<string, readonly string[]> = {
  fit: ["Lifting and supports"],
  "leak-test": ["Hot oil", "Fire"],
  session: ["Hot oil", "Fire"],
  teardown: ["Hot oil", "Lifting and supports"],
};

export default function Sheet() {
  useEffect(() => void listRecords(), [job.value?.text_hash, outside.value]);
  useAsked("plan", {}, job.value?.input_hash);
  if (!job.value) return null;
  const kind = open.value;
  return (
    <div class="strip-sheet">
      <header class="sheet-head">
        <h1>Strip</h1>
        <p class="lead">What was seen when a print was held up, on the bench, after a session, and with the pan off the engine.</p>
      </header>
      <div class="kinds on-screen" role="group" aria-label="Forms">
        {KINDS.map((k) => {
          const { stand, word } = standingOf(k);
          return (
            <button key={k} class="kind" aria-pressed={k === kind} onClick={() => (open.value = k)}>
              <span>{nameOf(k)}</span>
              <span class="kind-stamp">
                <Mark stand={stand} /> {word}
              </span>
            </button>
          );
        })}
      </div>
      <section aria-label={nameOf(kind)}>
        <h2>{nameOf(kind)}</h2>
        <Cautions topics={TOPICS[kind] ?? ["Hot oil"]} />
        <Expected kind={kind} />
        <RecordForm key={kind} kind={kind} />
      </section>
      <section aria-label="Filed">
        <h2>Filed</h2>
        <Filed />
      </section>
    </div>
  );
}
