// SPDX-License-Identifier: Apache-2.0
// A form of one kind: filled in here, filed once.

import { useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { posted, Refused } from "../api";
import { Said } from "../prove/Asking";
import { listRecords, records, unread } from "../prove/records";
import type { Problem } from "../protocol";
import { announce } from "../shell/announce";
import { Mark } from "../shell/Mark";
import { job } from "../state";
import { Field, type FieldProps } from "./Field";
import { clear, drafts, fetchForm, nameOf, put, type Form } from "./form";
import { Photos } from "./Photos";
import { Lines, Rows } from "./Rows";

const KINDS: Record<string, (props: FieldProps) => preact.JSX.Element> = {
  rows: Rows,
  lines: Lines,
  photos: Photos,
};

/** `the values given:3  rows.0.poured` is about `rows.0.poured`. */
const keyOf = (problem: Problem): string => problem.where.split(/\s+/).at(-1) ?? "";

function placed(problems: readonly Problem[], form: Form): Map<string, Problem> {
  const own = new Set(form.fields.map((f) => f.key));
  return new Map(problems.filter((p) => own.has(keyOf(p).split(".")[0]!)).map((p) => [keyOf(p), p]));
}

/** A form begun for a part that is another by now is filed for that one, and does not count. */
function OldPart({ form }: { form: Form }) {
  const now = records.value;
  if (!now || (now.part_hash === form.part_hash && now.revision === form.revision)) return null;
  return (
    <p class="note">
      <Mark stand="stale" /> Begun for revision {form.revision}, part {form.part_hash.slice(0, 12)}; the
      part is another now. It will be filed for the one it was seen on, and does not count for this one.
    </p>
  );
}

export function RecordForm({ kind }: { kind: string }) {
  const problems = useSignal<readonly Problem[]>([]);
  const said = useSignal("");
  const filed = useSignal("");
  const busy = useSignal(false);
  const place = useRef<HTMLFormElement>(null);
  useEffect(() => {
    if (problems.value.length) place.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
  }, [problems.value]);
  useEffect(() => {
    const lost = (error: unknown) => (said.value = error instanceof Error ? error.message : String(error));
    if (drafts.value[kind]) return;
    said.value = "";
    void fetchForm(kind).catch(lost);
  }, [kind, job.value?.text_hash]);
  const draft = drafts.value[kind];
  const file = async () => {
    busy.value = true;
    problems.value = [];
    said.value = "";
    try {
      const { revision, part_hash, input_hash } = draft!.form;
      const stamps = { revision, part_hash, input_hash };
      const came = await posted<{ filed: string }>("/api/record", { kind, stamps, values: draft!.values });
      filed.value = came.filed;
      announce(`filed as ${came.filed}`);
      await Promise.all([clear(kind), listRecords()]);
    } catch (error) {
      const refused = error instanceof Refused ? error : null;
      problems.value = refused?.problems ?? [];
      said.value = refused ? (refused.problems.length ? "" : refused.message) : "the line to the server was lost; nothing typed is lost";
    } finally {
      busy.value = false;
    }
  };
  if (!draft && said.value && unread.value) return <p class="quiet">The form comes once the job is mended.</p>;
  if (!draft) return said.value ? <p class="problem">{said.value}</p> : <p class="quiet">Fetching the form …</p>;
  const { form, values } = draft;
  const at = placed(problems.value, form);
  const rest = problems.value.filter((p) => !at.has(keyOf(p)));
  return (
    <form
      class="record-form"
      ref={place}
      onSubmit={(e) => {
        e.preventDefault();
        void file();
      }}
    >
      <p class="quiet">
        {form.says} For revision {form.revision}, part {form.part_hash.slice(0, 12)}.
      </p>
      <OldPart form={form} />
      {form.fields.map((field) => {
        const Kind = KINDS[field.kind] ?? Field;
        const set: FieldProps["put"] = (value) => put(kind, field.key, value);
        return <Kind key={field.key} field={field} value={values[field.key] ?? ""} at={field.key} problems={at} put={set} />;
      })}
      {problems.value.length > 0 && (
        <p class="problem" role="alert">
          <strong>Nothing was filed:</strong> {problems.value.length === 1 ? "one thing is" : `${problems.value.length} things are`} to
          mend, said beside {at.size === 1 ? "its line" : "their lines"}.
        </p>
      )}
      <Said problems={rest} error={said.value || null} />
      <p class="tools">
        <button class="main" type="submit" disabled={busy.value}>
          File it
        </button>
        <button type="button" class="plain" onClick={() => void clear(kind)}>
          Empty the form
        </button>
        <span class="quiet">A record is filed once and never changed; what turns out wrong is said in a new one.</span>
      </p>
      {filed.value && (
        <p class="filed" role="status">
          <Mark stand="met" /> {nameOf(kind)} filed as <code>{filed.value}</code>.
        </p>
      )}
    </form>
  );
}
