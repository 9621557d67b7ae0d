// SPDX-License-Identifier: Apache-2.0
// A section of the job file, folded until it is wanted; a list holds its entries the same way.

import { signal } from "@preact/signals";
import { drafts } from "./draft";
import { FieldRow } from "./FieldRow";
import type { Field, Section } from "./form";
import { goal } from "./goal";
import { AddEntry, TakeOut } from "./Entries";

/** Sections that a person opened or closed; the rest is as `startsOpen` has it. */
const opened = signal<ReadonlyMap<string, boolean>>(new Map());
/** What is looked for, in small letters. */
export const sought = signal("");

const FIRST = ["", "oil"];

const matches = (field: Field, words: string): boolean =>
  `${field.label} ${field.key} ${field.says} ${field.typed ?? ""}`.toLowerCase().includes(words);

/** The part of a section that answers to what is looked for; null where nothing does. */
export function filtered(section: Section, words: string): Section | null {
  if (!words || `${section.title} ${section.key}`.toLowerCase().includes(words)) return section;
  const fields = section.fields.filter((f) => matches(f, words));
  const items = section.items?.map((i) => filtered(i, words)).filter((i) => i !== null);
  if (!fields.length && !items?.length) return null;
  return items ? { ...section, fields, items } : { ...section, fields };
}

const holds = (section: Section, test: (field: Field) => boolean): boolean =>
  section.fields.some(test) || !!section.items?.some((item) => holds(item, test));

const isWrong = (field: Field): boolean =>
  !!(drafts.value.get(field.key)?.problems ?? drafts.value.get(field.key)?.theirs ?? field.problem);

function isOpen(section: Section): boolean {
  if (sought.value || holds(section, (f) => f.key === goal.value)) return true;
  const chosen = opened.value.get(section.key);
  return chosen ?? (FIRST.includes(section.key) || holds(section, isWrong));
}

function typedCount(section: Section): number {
  const inner = section.items?.reduce((sum, item) => sum + typedCount(item), 0) ?? 0;
  return inner + section.fields.filter((f) => f.typed !== null).length;
}

function Brief({ of }: { of: Section }) {
  const wrong = holds(of, isWrong);
  const unsaved = holds(of, (f) => drafts.value.has(f.key));
  const entries = of.items?.length;
  const count = entries == null ? `${typedCount(of)} typed` : entries === 1 ? "1 entry" : `${entries} entries`;
  const text = wrong ? "to mend" : unsaved ? "not in the file yet" : of.present ? count : "not used";
  return <span class={`section-brief ${wrong ? "is-wrong" : ""}`}>{text}</span>;
}

export function SectionPart({ section, depth = 0 }: { section: Section; depth?: number }) {
  const open = isOpen(section);
  const flip = (event: Event) => {
    event.preventDefault(); // the signal opens it, so that a field can be gone to
    opened.value = new Map(opened.value).set(section.key, !open);
  };
  return (
    <details class={`section is-depth-${depth}`} open={open} data-section={section.key}>
      <summary onClick={flip}>
        <span class="section-title">{section.title}</span>
        <Brief of={section} />
      </summary>
      {open && (
        <div class="section-body">
          {section.says && <p class="quiet section-says">{section.says}</p>}
          {section.fields.map((field) => (
            <FieldRow key={field.key} field={field} />
          ))}
          {section.items?.map((item) => (
            <SectionPart key={item.key} section={item} depth={depth + 1} />
          ))}
          {section.items != null && <AddEntry to={section} />}
          {/\.\d+$/.test(section.key) && <TakeOut of={section} />}
        </div>
      )}
    </details>
  );
}
