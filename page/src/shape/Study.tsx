// SPDX-License-Identifier: Apache-2.0
// One question of shaping or making: its key, where it is, what it said and the files it wrote.

import type { ComponentChildren } from "preact";
import { useMemo } from "preact/hooks";
import { Asking, isBusy, useAsked } from "../prove/Asking";
import { byHand } from "../shell/by_hand";
import { Mark } from "../shell/Mark";
import type { Stand } from "../shell/standing";
import type { Work } from "../protocol";
import { answered, job, workOn } from "../state";
import "./shape.css";

export interface Finding {
  code: string;
  place: string;
  found: string;
  repair: string;
  severity: string;
}

type Args = Record<string, unknown>;

interface StudyProps<T> {
  question: string;
  args?: Args;
  /** On the key */
  words: string;
  /** While it runs */
  doing: string;
  /** On the key once it was answered */
  again: string;
  /** How long it takes, beside the key */
  takes?: string;
  children: (answer: T, work: Work) => ComponentChildren;
}

const NONE: Args = {};

export function Study<T>({ question, args = NONE, words, doing, again, takes, children }: StudyProps<T>) {
  const found = answered<T>(question, args);
  const work = workOn(question, args);
  const needed = !found || found.stale || isBusy(work) || work?.state !== "done";
  return (
    <>
      {needed && (
        <Asking question={question} args={args} words={words} doing={doing} again={again}>
          {takes && <span class="quiet">{takes}</span>}
        </Asking>
      )}
      {found?.stale && <p class="note">These figures are for the numbers before the last change.</p>}
      {found && children(found.answer, found.work)}
    </>
  );
}

/** The same, asked by itself whenever the job has changed. */
export function Quick<T>(props: StudyProps<T>) {
  const { question, args = NONE } = props;
  const kept = useMemo(() => args, [JSON.stringify(args)]);
  useAsked(question, kept, job.value?.input_hash);
  return <Study {...props} args={kept} />;
}

export const addressOf = (file: string): string => `/api/out/${file.split("/").map(encodeURIComponent).join("/")}`;

/** What a browser shows opens beside the page; the rest is saved. */
const howTo = (file: string) =>
  /\.(svg|pdf|json|csv)$/.test(file) ? { target: "_blank", rel: "noopener" } : { download: true };

/** What a work wrote, to be fetched. */
export function Fetch({ work, only }: { work: Work; only?: (file: string) => boolean }) {
  const files = only ? work.files.filter(only) : work.files;
  if (!files.length) return null;
  return (
    <ul class="fetch">
      {files.map((file) => (
        <li key={file}>
          <a href={addressOf(file)} {...howTo(file)}>
            {file.slice(file.indexOf("/") + 1)}
          </a>
        </li>
      ))}
    </ul>
  );
}

/** A picture that the work wrote; drawn for paper, so on paper's white. */
export function Picture({ work, file, says }: { work: Work; file: string; says: string }) {
  if (!work.files.includes(file)) return null;
  const address = `${addressOf(file)}?of=${work.key ?? ""}`;
  return (
    <figure class="drawn">
      <a href={address} target="_blank" rel="noopener">
        <img src={address} alt={says} loading="lazy" />
      </a>
    </figure>
  );
}

export function Verdict({ stand, children }: { stand: string; children: ComponentChildren }) {
  return (
    <p class={`made-verdict${stand === "not met" ? " not-met" : ""}`}>
      <Mark stand={stand as Stand} />
      <span>
        <b>{stand}</b>: {children}
      </span>
    </p>
  );
}

/** What warns stands open; what only informs is folded away where there is much of it. */
export function Findings({ findings }: { findings: readonly Finding[] }) {
  const notes = findings.filter((f) => f.severity === "note");
  const warns = findings.filter((f) => f.severity !== "note");
  const told = notes.map((f) => <FindingText finding={f} key={f.code + f.place + f.found} />);
  return (
    <>
      {warns.map((f) => (
        <FindingText finding={f} key={f.code + f.place + f.found} />
      ))}
      {notes.length < 2 && told}
      {notes.length > 1 && (
        <details class="fold">
          <summary>{notes.length} things to know</summary>
          {told}
        </details>
      )}
    </>
  );
}

function FindingText({ finding: f }: { finding: Finding }) {
  return (
    <p class={f.severity === "error" ? "problem" : "note"}>
      <b>{f.place}</b>: {f.found}
      {f.repair && `; ${f.repair}`}. <span class="quiet">[{f.code}]</span>
    </p>
  );
}

export function Lines({ said, words }: { said: readonly string[]; words: string }) {
  if (!said.length) return null;
  return (
    <details class="fold">
      <summary>{words}</summary>
      <ul>
        {said.map((one) => (
          <li key={one}>{byHand(one)}</li>
        ))}
      </ul>
    </details>
  );
}
