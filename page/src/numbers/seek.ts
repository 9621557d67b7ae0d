// SPDX-License-Identifier: Apache-2.0
// Finding a number among all that a job may hold.

import { signal } from "@preact/signals";
import type { Field, Section } from "./form";

/** What is looked for, in small letters. */
export const sought = signal("");

const matches = (field: Field, words: string): boolean =>
  `${field.label} ${field.key} ${field.says} ${field.typed ?? ""}`.toLowerCase().includes(words);

const isSection = (s: Section | null): s is Section => s !== null;

/** The part of a section that answers to what is looked for; null where nothing does. */
export function filtered(section: Section, words: string): Section | null {
  if (!words || `${section.title} ${section.key}`.toLowerCase().includes(words)) return section;
  const fields = section.fields.filter((f) => matches(f, words));
  const sections = section.sections.map((s) => filtered(s, words)).filter(isSection);
  const items = section.items?.map((i) => filtered(i, words)).filter(isSection) ?? null;
  if (!fields.length && !sections.length && !items?.length) return null;
  return { ...section, fields, sections, items };
}

/** Whether a key, of a field or a section, lies in this one. */
export const reaches = (section: Section, key: string | null): boolean =>
  key !== null &&
  (section.key === key ||
    section.fields.some((f) => f.key === key) ||
    [...section.sections, ...(section.items ?? [])].some((inner) => reaches(inner, key)));

export const holds = (section: Section, test: (field: Field) => boolean): boolean =>
  section.fields.some((f) => test(f) || !!f.entries?.some(test)) ||
  section.sections.some((inner) => holds(inner, test)) ||
  !!section.items?.some((item) => holds(item, test));
