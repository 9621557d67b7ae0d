// SPDX-License-Identifier: Apache-2.0
// One value of the job: its name, what it means, where it is typed, and what came of typing it.

import { useEffect, useRef } from "preact/hooks";
import { Mark } from "../shell/Mark";
import { Said } from "../shell/Said";
import { drafts, put, save, undoLast, written } from "./draft";
import { Entry } from "./Entry";
import type { Field } from "./form";
import { goal } from "./goal";
import { moved } from "./moved";
import { Trouble } from "./Trouble";
import { FEW, idOf } from "./typing";

function Outcome() {
  const came = moved.value;
  if (!came) return <span>In the file.</span>;
  if (!came.verdict) {
    return (
      <span class="outcome">
        <Mark stand="running" /> In the file; the verdict is being found.
      </span>
    );
  }
  const { before, after, whole } = came.verdict;
  const stand = after === "met" || after === "not met" ? after : "not judged";
  return (
    <span class="outcome">
      <Mark stand={stand} />
      <span>
        verdict: {before} → <b>{after}</b>
        {!whole && ", oil at rest; in motion: at work"}
      </span>
    </span>
  );
}

/** Typed, not sent. The keys do it without leaving the field, which would send it. */
function Waiting({ of, text }: { of: Field; text: string }) {
  const stay = (event: PointerEvent) => event.preventDefault();
  return (
    <p class="field-after after-line">
      <button onPointerDown={stay} onClick={() => void save(of.key, text)}>
        Put it in the file
      </button>
      <button class="plain" onPointerDown={stay} onClick={() => put(of.key, null)}>
        Take it back
      </button>
    </p>
  );
}

/** Beside the field that this window wrote last: what the verdict makes of it. */
function After({ of }: { of: Field }) {
  const draft = drafts.value.get(of.key);
  const place = useRef<HTMLDivElement>(null);
  const last = written.value;
  const mine = !draft && (last === of.key || !!of.entries?.some((entry) => entry.key === last));
  useEffect(() => {
    if (mine) place.current?.scrollIntoView({ block: "nearest" });
  }, [mine, moved.value]);
  if (draft?.saving) return <p class="field-after">Goes into the file …</p>;
  if (draft && !draft.problems && !draft.theirs && !draft.said) {
    return <Waiting of={of} text={draft.text} />;
  }
  if (!mine) return null;
  return (
    <div class="field-after" ref={place}>
      <p class="after-line">
        <Outcome />
        <button class="plain" onClick={() => void undoLast()}>
          Undo
        </button>
      </p>
      {!!moved.value?.lines.length && (
        <ul>
          {moved.value.lines.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      )}
    </div>
  );
}

function about(of: Field): string {
  const plain = of.kind === "text" && !of.required ? "" : of.needed; // any text will do
  const parts = [plain];
  if (of.default) parts.push(`left empty: ${of.default}`);
  else if (of.example && of.typed === null) parts.push(`such as ${of.example}`);
  return parts.filter(Boolean).join(" · ");
}

/** Groups of keys have a name, but no one box that it stands for. */
function Name({ of }: { of: Field }) {
  const id = `${idOf(of.key)}-label`;
  const grouped = of.parts || of.entries?.length || of.kind === "switch" || (of.kind === "words" && of.words.length <= FEW);
  if (grouped) {
    return (
      <span class="field-label" id={id}>
        {of.label}
      </span>
    );
  }
  return (
    <label for={idOf(of.key)} id={id}>
      {of.label}
    </label>
  );
}

export function FieldRow({ field }: { field: Field }) {
  const row = useRef<HTMLDivElement>(null);
  const aimed = goal.value === field.key;
  useEffect(() => {
    if (!aimed) return;
    row.current?.scrollIntoView({ block: "center" });
    row.current?.querySelector<HTMLElement>("input, select, textarea, button")?.focus();
    goal.value = null;
  }, [aimed]);
  const draft = drafts.value.get(field.key);
  const stuck = draft?.problems ?? draft?.theirs ?? draft?.said;
  useEffect(() => {
    if (stuck) row.current?.scrollIntoView({ block: "nearest" });
  }, [stuck]);
  const wrong = !!(drafts.value.get(field.key)?.problems ?? field.problem);
  const empty = field.typed === null && !drafts.value.has(field.key);
  return (
    <div ref={row} class={`field ${wrong ? "is-wrong" : ""} ${empty ? "is-empty" : ""}`} data-key={field.key}>
      <div class="field-name">
        <Name of={field} />
        {field.says && (
          <p>
            <Said text={field.says} />
          </p>
        )}
        {field.note && <p class="remark">Noted: {field.note}</p>}
      </div>
      <div class="field-entry">
        <Entry field={field} />
        <p class="field-needed" id={`${idOf(field.key)}-about`}>
          {about(field)}
        </p>
        <Trouble of={field} />
        <After of={field} />
      </div>
    </div>
  );
}
