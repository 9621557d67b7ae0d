// SPDX-License-Identifier: Apache-2.0
// 70 Release: may it be sold? What is open, with what would settle it; then the dossier.

import { useEffect } from "preact/hooks";
import { Asking, isBusy, Said } from "../prove/Asking";
import { Cautions } from "../prove/Cautions";
import "../prove/prove.css";
import { listRecords, records } from "../prove/records";
import { Mark } from "../shell/Mark";
import { answered, ask, job, outside, workOn } from "../state";
import { Missing } from "./Missing";
import { Ready } from "./Ready";
import type { ReleaseAnswer } from "./release_answer";
import "./release.css";
import { Revisions } from "./Revisions";
import { openOf } from "./settle";

/** What was filed when it was asked last: another record asks for another look. */
let seen = "";

const filedNow = (): string => (records.value?.filed ?? []).map((r) => r.name + r.standing).join();

function useLook(): void {
  const hash = job.value?.input_hash;
  const filed = records.value ? filedNow() : null;
  useEffect(() => void listRecords(), [job.value?.text_hash, outside.value]);
  useEffect(() => {
    if (!hash || filed === null) return;
    const work = workOn("release");
    const fresh = work && work.input_hash === hash && seen === filed;
    if (fresh || isBusy(work)) return;
    seen = filed;
    void ask("release");
  }, [hash, filed]);
}

function Answer() {
  const work = workOn("release");
  const found = answered<ReleaseAnswer>("release");
  if (isBusy(work)) return null;
  if (work?.state === "done" && found) return <Ready answer={found.answer} />;
  if (work?.state !== "failed") return null;
  const rows = work.problems.map(openOf);
  const missing = rows.filter((r) => r !== null);
  const others = work.problems.filter((_, k) => rows[k] === null);
  return (
    <>
      {missing.length > 0 && <Missing rows={missing} />}
      <Said problems={others} error={work.error} />
    </>
  );
}

function Look() {
  const work = workOn("release");
  if (work?.state === "failed") {
    return (
      <p class="tools">
        <button onClick={() => void ask("release")}>Look again</button>
        {work.stale && (
          <span class="is-stale-words">
            <Mark stand="stale" /> the job has changed since
          </span>
        )}
      </p>
    );
  }
  return <Asking question="release" words="May I sell it?" again="Look again" doing="Looking for the evidence of every requirement" />;
}

function Untested() {
  const rows = records.value?.untested ?? [];
  if (!rows.length) return null;
  return (
    <>
      <h2>What was not tested</h2>
      <ul>
        {rows.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </>
  );
}

export default function Sheet() {
  useLook();
  if (!job.value) return null;
  return (
    <div class="release-sheet">
      <header class="sheet-head">
        <h1>Release</h1>
        <p class="lead">Only with evidence for everything that the job asks for.</p>
      </header>
      <Answer />
      <Look />
      <Untested />
      <h2>Revisions in numbers</h2>
      <Revisions />
      <h2>Cautions that go with the part</h2>
      <Cautions />
    </div>
  );
}
