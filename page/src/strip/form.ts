// SPDX-License-Identifier: Apache-2.0
// A blank form of a record as the server describes it, and what is typed into it so far.

import { effect, signal } from "@preact/signals";
import { got } from "../api";
import { folder } from "../state";

export type Value = string | boolean | null | Value[] | { [key: string]: Value };
export type Values = { [key: string]: Value };

export interface FormField {
  key: string;
  label: string;
  says: string;
  kind: string;
  needed?: string;
  words?: string[];
  required: boolean;
  /** Of rows */
  fields?: FormField[];
  given?: Record<string, string>[];
  rows?: number;
  fixed?: boolean;
}

export interface Form {
  kind: string;
  says: string;
  revision: string;
  part_hash: string;
  input_hash: string;
  fields: FormField[];
}

export const KINDS = [
  "fit",
  "fill-test",
  "tilt-test",
  "door-test",
  "leak-test",
  "session",
  "teardown",
  "decision",
] as const;

/** Where the kind's own word says too little beside the others. */
const NAMES: Record<string, string> = { fit: "Fit of a prototype" };

export const nameOf = (kind: string): string => {
  const words = NAMES[kind] ?? kind.replace(/-/g, " ");
  return words.charAt(0).toUpperCase() + words.slice(1);
};

/** What is open on this sheet; other sheets may send somebody to a form. */
export const open = signal<string>("fill-test");

interface Draft {
  form: Form;
  values: Values;
}

/** Forms that were begun, by kind: leaving the sheet loses none. */
export const drafts = signal<Readonly<Record<string, Draft>>>({});

// Another job has other doors; what was begun for this one is remembered under its folder.
effect(() => {
  void folder.value;
  drafts.value = {};
});

const place = (kind: string): string => `sumpwright.form ${folder.peek() ?? ""} ${kind}`;

function remembered(kind: string): Draft | null {
  try {
    return JSON.parse(localStorage.getItem(place(kind)) ?? "null") as Draft | null;
  } catch {
    return null;
  }
}

function remember(kind: string, draft: Draft | null): void {
  try {
    if (draft) localStorage.setItem(place(kind), JSON.stringify(draft));
    else localStorage.removeItem(place(kind));
  } catch {
    // lasts as long as the window
  }
}

const blankRow = (fields: readonly FormField[], given: Record<string, string> = {}): Values =>
  Object.fromEntries(fields.map((f) => [f.key, given[f.key] ?? (f.kind === "switch" ? null : "")]));

export function blankOf(field: FormField): Value {
  if (field.kind === "rows") {
    const rows = (field.given ?? []).map((given) => blankRow(field.fields!, given));
    const more = Array.from({ length: field.rows ?? 0 }, () => blankRow(field.fields!));
    return [...rows, ...more];
  }
  if (field.kind === "lines" || field.kind === "photos") return [];
  return field.kind === "switch" ? null : "";
}

export const addedRow = (field: FormField): Values => blankRow(field.fields ?? []);

const blank = (form: Form): Values => Object.fromEntries(form.fields.map((f) => [f.key, blankOf(f)]));

/** The form of `kind`, as it was left, else blank; keeps the part it was begun for. */
export async function fetchForm(kind: string): Promise<void> {
  const kept = remembered(kind);
  const form = await got<Form>(`/api/record/form?${new URLSearchParams({ kind })}`);
  if (drafts.value[kind]) return;
  const draft = kept ?? { form, values: blank(form) };
  drafts.value = { ...drafts.value, [kind]: draft };
}

/** Whether anything was typed into it. */
export function isBegun(kind: string): boolean {
  const draft = drafts.value[kind];
  return !!draft && JSON.stringify(draft.values) !== JSON.stringify(blank(draft.form));
}

export function put(kind: string, key: string, value: Value): void {
  const draft = drafts.value[kind];
  if (!draft) return;
  const next = { ...draft, values: { ...draft.values, [key]: value } };
  drafts.value = { ...drafts.value, [kind]: next };
  remember(kind, next);
}

/** Puts a form away: it was filed, or is not wanted. */
export async function clear(kind: string): Promise<void> {
  remember(kind, null);
  const { [kind]: _, ...rest } = drafts.value;
  drafts.value = rest;
  await fetchForm(kind);
}
