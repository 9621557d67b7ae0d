// SPDX-License-Identifier: Apache-2.0
// The job file as fields: what this window last saw of it, and what changed behind its back.

import { batch, computed, effect, signal, untracked } from "@preact/signals";
import { got, WINDOW } from "../api";
import type { Problem } from "../protocol";
import { folder, job, outside } from "../state";

export type Kind = "quantity" | "words" | "text" | "file" | "number" | "switch" | "list";

export interface Field {
  /** Dotted, as `sumpwright set` takes it; inside a blank entry, from there on */
  key: string;
  name: string;
  label: string;
  says: string;
  /** What the starter says of it */
  more: string;
  kind: Kind;
  /** As it stands in the file; null where nothing does */
  typed: string | null;
  /** The comment behind it in the file */
  note: string;
  needed: string;
  words: string[];
  default: string | null;
  example: string | null;
  required: boolean;
  units: string[];
  /** A list of fixed length, each value under its name */
  parts: { label: string; typed: string | null }[] | null;
  /** A list of any length, each value a field */
  entries: Field[] | null;
  least: number;
  /** Kinds of manoeuvre that take it; null where all do */
  kinds: Record<string, "needed" | "either" | "may"> | null;
  files: "geometry" | "log" | null;
  suffixes: string[];
  problem: Problem | null;
  /** The entry or list about it that has no name to be found by; null where names say where it is */
  within: Within | null;
}

/** The server's print of what this window saw, so that a neighbour is never changed in its place. */
export interface Within {
  key: string;
  seen: string;
}

export interface Section {
  key: string;
  name: string;
  title: string;
  says: string;
  more: string;
  note: string;
  present: boolean;
  required: boolean;
  /** Whether it can be taken out whole */
  can_take: boolean;
  /** The server's print of what stands there, to take out no more than was seen */
  seen: string | null;
  fields: Field[];
  sections: Section[];
  /** Entries, of a list; null where it is none */
  items: Section[] | null;
  /** The form of a new entry */
  blank: Section | null;
  problem: Problem | null;
}

export interface Form {
  text_hash: string | null;
  sections: Section[];
  problems: Problem[];
  /** What this window would take back, or do again, in words */
  undo: Ahead | null;
  redo: Ahead | null;
  /** The lines round the first one that cannot be read */
  broken: { line: number; lines: [number, string][] } | null;
}

export interface Ahead {
  says: string;
  /** Who did it */
  window: string;
}

export interface Change {
  key: string;
  label: string;
  before: string | null;
  after: string | null;
}

export const form = signal<Form | null>(null);
/** The file as someone else left it; offered, not put in place. */
export const offered = signal<Form | null>(null);
export const formFault = signal("");

/** Every field by its key, values of lists among them. */
export const fieldsByKey = computed(() => index(form.value, true));

function index(of: Form | null, entries = false): Map<string, Field> {
  const all = new Map<string, Field>();
  const walk = (section: Section): void => {
    for (const field of section.fields) {
      all.set(field.key, field);
      if (entries) for (const entry of field.entries ?? []) all.set(entry.key, entry);
    }
    section.sections.forEach(walk);
    section.items?.forEach(walk);
  };
  of?.sections.forEach(walk);
  return all;
}

/** What differs between two sights of the file. */
export function changes(from: Form | null, to: Form | null): Change[] {
  const [before, after] = [index(from), index(to)];
  const keys = new Set([...before.keys(), ...after.keys()]);
  return [...keys]
    .map((key) => {
      const [was, is] = [before.get(key), after.get(key)];
      const label = (is ?? was)?.label ?? key;
      return { key, label, before: was?.typed ?? null, after: is?.typed ?? null };
    })
    .filter((c) => c.before !== c.after);
}

let wanted = 0;

/** Read the file's fields: in place where this window changed it, else beside. */
async function fetchForm(place: "here" | "beside"): Promise<void> {
  const turn = ++wanted;
  try {
    const found = await got<Form>(`/api/form?window=${WINDOW}`);
    if (turn !== wanted) return; // a later look is on its way
    batch(() => {
      formFault.value = "";
      const whole = form.value !== null && !form.value.broken && !found.broken;
      const beside = place === "beside" && whole && changes(form.value, found).length > 0;
      if (beside) offered.value = found;
      else [form.value, offered.value] = [found, null];
    });
  } catch (error) {
    formFault.value = error instanceof Error ? error.message : String(error);
  }
}

/** What a change of this window made of one value, and of the unnamed entry about it. */
export interface Written {
  key: string;
  typed: string | null;
  was: Within | null;
  is: Within | null;
}

/** What was seen within the same entry, moved on with this window's own change. */
export const movedOn = (seen: Within | null, { was, is }: Pick<Written, "was" | "is">): Within | null =>
  seen && was && is && seen.key === was.key && seen.seen === was.seen ? { ...seen, seen: is.seen } : seen;

function withTyped(section: Section, done: Written): Section {
  const deep = (inner: Section) => withTyped(inner, done);
  const one = (f: Field): Field => ({
    ...f,
    ...(f.key === done.key && { typed: done.typed, problem: null }),
    within: movedOn(f.within, done),
    entries: f.entries?.map(one) ?? null,
  });
  const items = section.items?.map(deep) ?? null;
  return { ...section, fields: section.fields.map(one), sections: section.sections.map(deep), items };
}

/** This window has written a value: shown at once, until the file is read again. */
export function noteWritten(done: Written): void {
  const now = form.value;
  if (now) form.value = { ...now, sections: now.sections.map((s) => withTyped(s, done)) };
}

/** Put in place what is in the file now. */
export function loadOffered(): void {
  batch(() => {
    form.value = offered.value;
    offered.value = null;
  });
}

export const reloadForm = (): Promise<void> => fetchForm("here");

let seen = { folder: null as string | null, outside: 0 };
effect(() => {
  const [where, hash, others] = [folder.value, job.value?.text_hash, outside.value];
  untracked(() => {
    if (where !== seen.folder) [form.value, offered.value] = [null, null];
    const foreign = where === seen.folder && others !== seen.outside;
    seen = { folder: where, outside: others };
    const known = form.value?.text_hash;
    if (where === null || hash === undefined || known === hash) {
      if (known === hash) offered.value = null; // put back as it was
      return;
    }
    void fetchForm(foreign ? "beside" : "here");
  });
});
