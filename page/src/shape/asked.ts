// SPDX-License-Identifier: Apache-2.0
// What is typed of the free space that is asked for, as behind the command: lengths with their units.

import { computed, effect, signal } from "@preact/signals";
import type { Problem, Work } from "../protocol";
import { shown } from "../shown";
import { folder, system, work } from "../state";

export interface Ask {
  key: string;
  label: string;
  /** What it is where it is left empty */
  empty: () => string;
  says: string;
}

const far = () => `up to ${shown(0.1, "length")}`;
const none = () => "none";

export const FIELDS: readonly Ask[] = [
  { key: "kick_out", label: "Kick-out, both sides", empty: far, says: "How far the space goes beyond the opening, left and right." },
  { key: "left", label: "Kick-out, left", empty: far, says: "The same on the left only." },
  { key: "right", label: "Kick-out, right", empty: far, says: "The same on the right only." },
  { key: "depth", label: "Deepest", empty: () => "as far as it may", says: "Deepest that the inside may be below the rail." },
];

export const MORE: readonly Ask[] = [
  { key: "front", label: "Ahead of it", empty: none, says: "How far it goes ahead of the opening." },
  { key: "rear", label: "Behind it", empty: none, says: "How far it goes behind the opening." },
  { key: "flange", label: "Kick-outs begin", empty: () => shown(0.03, "length"), says: "How far below the rail: room for the bolts." },
  { key: "wall", label: "Wall", empty: () => "new.shape.wall", says: "Of the pan; it stands outside of the space." },
  { key: "corner", label: "Corner radius", empty: () => "the smallest cutter's", says: "Of inside corners." },
  { key: "grid", label: "Grid", empty: () => shown(0.0035, "length"), says: "Its step; a coarser one is quicker and less sure." },
];

export const typed = signal<Readonly<Record<string, string>>>({});

effect(() => {
  void folder.value;
  typed.value = {};
});

export const args = computed<Record<string, string>>(() =>
  Object.fromEntries(Object.entries(typed.value).map(([key, text]) => [key, text.trim()]).filter(([, text]) => text)),
);

/** Such as somebody would write it. */
export const example = (): string => (system.value === "metric" ? "12 mm" : "0.5 in");

/** `kick-out, both sides: 12 mm; deepest: 100 mm`; empty where nothing was said. */
export function askedWords(of: Record<string, unknown>): string {
  const said = [...FIELDS, ...MORE].filter(({ key }) => typeof of[key] === "string");
  return said.map(({ key, label }) => `${label.charAt(0).toLowerCase()}${label.slice(1)}: ${String(of[key])}`).join("; ");
}

const optionOf = (key: string): string => `--${key.replace(/_/g, "-")}`;

/** The fields that a problem is about: `--kick-out and --left` is about both. */
const about = ({ where }: Problem): readonly string[] => where.split(" and ");

export const isOfField = (problem: Problem): boolean => [...FIELDS, ...MORE].some(({ key }) => about(problem).includes(optionOf(key)));

/** What was said the last time of what is still typed so. */
export function problemsOf(key: string): readonly Problem[] {
  const last = ofSpace.value.at(-1);
  if (last?.state !== "failed" || last.args[key] !== args.value[key]) return [];
  return last.problems.filter((p) => about(p).includes(optionOf(key)));
}

/** Every time that it was asked for, the last one last. */
export const ofSpace = computed<readonly Work[]>(() => work.value.filter((w) => w.question === "space"));
