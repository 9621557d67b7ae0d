// SPDX-License-Identifier: Apache-2.0
// What is to be driven: a manoeuvre of the job, a kind with what it takes, or a log.

import { computed, signal } from "@preact/signals";
import { form, type Field, type Section } from "../numbers/form";
import { known } from "../numbers/known";
import type { DoorsAre } from "./answer";

/** A kind is told apart from a manoeuvre of the same name by its place in the list. */
export interface Choice {
  group: "own" | "kind" | "log";
  name: string;
}

export const chosen = signal<Choice | null>(null);
export const doors = signal<DoorsAre>("working");
/** As typed; empty: as the job says */
export const oil = signal("");
/** Oil in each compartment at first, as typed; empty: settled */
export const start = signal("");
/** Samples for the chance that a requirement fails, and their seed, as typed; empty: none */
export const samples = signal("");
export const seed = signal("");
/** Options as typed, by choice, so that another choice and back loses nothing */
export const typed = signal<Readonly<Record<string, Readonly<Record<string, string>>>>>({});

const manoeuvres = computed<Section | null>(
  () => form.value?.sections.find((s) => s.key === "manoeuvres") ?? null,
);

const field = (section: Section, name: string): string | null =>
  section.fields.find((f) => f.name === name)?.typed ?? null;

/** The job's own manoeuvres by name. */
export const own = computed<{ name: string; kind: string; section: Section }[]>(() =>
  (manoeuvres.value?.items ?? []).map((section) => ({
    name: field(section, "name") ?? section.name,
    kind: field(section, "kind") ?? "",
    section,
  })),
);

/** Kinds that can be driven without standing in the job; a trace is a log. */
export const kinds = computed<string[]>(() => {
  const blank = manoeuvres.value?.blank?.fields.find((f) => f.name === "kind");
  return (blank?.words ?? []).filter((word) => word !== "trace");
});

/** Logs that a drive can follow: text as spreadsheets write it. */
export const logs = computed<string[]>(() =>
  known.value.log.map((file) => file.name).filter((name) => name.toLowerCase().endsWith(".csv")),
);

/** What is driven: as chosen, else the first there is. */
export const current = computed<Choice | null>(() => {
  const is = chosen.value;
  const there = {
    own: own.value.map((m) => m.name),
    kind: kinds.value,
    log: logs.value,
  };
  if (is && there[is.group].includes(is.name)) return is;
  for (const group of ["own", "kind", "log"] as const) {
    const name = there[group][0];
    if (name !== undefined) return { group, name };
  }
  return null;
});

export const keyOf = (choice: Choice): string => `${choice.group}/${choice.name}`;

export function choiceOf(key: string): Choice {
  const [group, ...name] = key.split("/");
  return { group: group as Choice["group"], name: name.join("/") };
}

/** The kind whose keys a choice takes. */
export function kindOf(choice: Choice): string {
  if (choice.group === "kind") return choice.name;
  if (choice.group === "log") return "trace";
  return own.value.find((m) => m.name === choice.name)?.kind ?? "";
}

/** `drive` has no option for these: they are asked for beside, or stand in the job alone. */
const APART = ["name", "kind", "oil", "file"];

export interface Option {
  field: Field;
  need: "needed" | "either" | "may";
  /** What the job says for this manoeuvre */
  says: string | null;
}

/** What may be said otherwise for once, what must be said first. */
export const options = computed<Option[]>(() => {
  const choice = current.value;
  if (!choice) return [];
  const kind = kindOf(choice);
  const section = choice.group === "own" && own.value.find((m) => m.name === choice.name)?.section;
  const rank = { needed: 0, either: 1, may: 2 };
  return (manoeuvres.value?.blank?.fields ?? [])
    .filter((f) => !APART.includes(f.name) && (f.kinds === null || kind in f.kinds))
    .map((f) => ({
      field: f,
      need: f.kinds?.[kind] ?? ("may" as const),
      says: section ? field(section, f.name) : null,
    }))
    .sort((a, b) => rank[a.need] - rank[b.need]);
});

/** What a manoeuvre of the job is, in a line: `circle, radius 30 m, accel 1.0 g`. */
export function inWords(section: Section): string {
  const kind = field(section, "kind") ?? "";
  const said = section.fields
    .filter((f) => f.typed && f.name !== "name" && f.name !== "kind")
    .map((f) => `${f.label.charAt(0).toLowerCase()}${f.label.slice(1)} ${f.typed}`);
  return [kind, ...said].join(", ");
}

/** The question's arguments, nothing in them that was not asked for. */
export const args = computed<Record<string, unknown> | null>(() => {
  const choice = current.value;
  if (!choice) return null;
  const taken = options.value.map((o) => o.field.name);
  const given = Object.entries(typed.value[keyOf(choice)] ?? {})
    .map(([key, text]) => [key, text.trim()] as const)
    .filter(([key, text]) => text && taken.includes(key));
  return {
    manoeuvre: choice.name,
    ...(oil.value.trim() && { oil: oil.value.trim() }),
    ...(doors.value !== "working" && { doors: doors.value }),
    ...(start.value.trim() && { start: start.value.trim() }),
    ...(samples.value.trim() && { chance: samples.value.trim() }),
    ...(samples.value.trim() && seed.value.trim() && { seed: seed.value.trim() }),
    ...(given.length && { options: Object.fromEntries(given) }),
  };
});

export function type(choice: Choice, key: string, text: string): void {
  const before = typed.value[keyOf(choice)] ?? {};
  typed.value = { ...typed.value, [keyOf(choice)]: { ...before, [key]: text } };
}

export function forget(choice: Choice): void {
  const { [keyOf(choice)]: _, ...others } = typed.value;
  typed.value = others;
}
