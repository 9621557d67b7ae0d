// SPDX-License-Identifier: Apache-2.0
// A section of the job file, folded until it is wanted; a list holds its entries the same way.

import { signal } from "@preact/signals";
import type { RefObject } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { ProblemText } from "../shell/Problems";
import { Said } from "../shell/Said";
import { drafts } from "./draft";
import { FieldRow } from "./FieldRow";
import type { Field, Section } from "./form";
import { goal } from "./goal";
import { AddPart, TakeOut } from "./Part";
import { filtered, holds, reaches, sought } from "./seek";

/** Sections that a person opened or closed; the rest is as `isOpen` has it. */
const opened = signal<ReadonlyMap<string, boolean>>(new Map());

const FIRST = ["", "oil"];
const TITLES: Record<string, string> = { new: "New pan", stock: "Stock pan", ride: "Ride height", pose: "Engine's place" };

const isWrong = (field: Field): boolean => {
  const draft = drafts.value.get(field.key);
  return !!(draft?.problems ?? draft?.theirs ?? field.problem);
};

function isOpen(section: Section): boolean {
  if (sought.value || reaches(section, goal.value)) return true;
  const chosen = opened.value.get(section.key);
  return chosen ?? (FIRST.includes(section.key) || section.problem !== null || holds(section, isWrong));
}

function typedCount(section: Section): number {
  const inner = [...section.sections, ...(section.items ?? [])];
  const below = inner.reduce((sum, item) => sum + typedCount(item), 0);
  return below + section.fields.filter((f) => f.typed !== null).length;
}

function brief(of: Section): string {
  const entries = of.items?.length;
  if (entries) return entries === 1 ? "1 entry" : `${entries} entries`;
  if (!of.present) return of.required ? "needed" : "not used";
  return entries === 0 ? "none" : `${typedCount(of)} typed`;
}

function Brief({ of }: { of: Section }) {
  const wrong = of.problem !== null || holds(of, isWrong);
  const unsaved = holds(of, (f) => drafts.value.has(f.key));
  const text = wrong ? "to mend" : unsaved ? "not in the file yet" : brief(of);
  return <span class={`section-brief ${wrong ? "is-wrong" : ""}`}>{text}</span>;
}

/** Of a manoeuvre only what its kind takes, and whatever is typed though it does not. */
function fieldsShown(section: Section): Field[] {
  const kind = section.fields.find((f) => f.name === "kind")?.typed;
  return section.fields.filter(
    (f) => f.key !== "sumpwright" && (!f.kinds || !kind || kind in f.kinds || f.typed !== null),
  );
}

/** Sections that every job has, typed or not: one value alone may be put there. */
const ALWAYS = /^($|oil$|engine$|pose$|air$|logs|requirements$)/;

/** Any other section that is not there is filled in first, then put in whole. */
const beginsWhole = (section: Section): boolean =>
  !section.present && section.items === null && !ALWAYS.test(section.key);

function Inside({ section, depth }: { section: Section; depth: number }) {
  if (beginsWhole(section)) return <AddPart to={section.key} like={section} word={section.title} />;
  return (
    <>
      {fieldsShown(section).map((field) => (
        <FieldRow key={field.key} field={field} />
      ))}
      {section.sections.map((inner) => (
        <SectionPart key={inner.key} section={inner} depth={depth + 1} />
      ))}
      {section.items?.map((item) => (
        <SectionPart key={item.key} section={item} depth={depth + 1} />
      ))}
      {section.blank && <AddPart to={section.key} like={section.blank} word={section.blank.title} />}
      {section.can_take && <TakeOut of={section} />}
    </>
  );
}

/** What is gone to stays open; a section, or a value that it cannot have yet, is gone to as a whole. */
function useAim(section: Section): RefObject<HTMLDetailsElement | null> {
  const place = useRef<HTMLDetailsElement>(null);
  const within = reaches(section, goal.value);
  const whole = section.key === goal.value || (within && beginsWhole(section));
  const field = section.fields.some((f) => f.key === goal.value);
  useEffect(() => {
    if (!within) return;
    opened.value = new Map(opened.value).set(section.key, true);
    if (!whole || (field && !beginsWhole(section))) return; // the field sees to itself
    place.current?.scrollIntoView({ block: "start" });
    place.current?.querySelector("summary")?.focus();
    goal.value = null;
  }, [within, whole]);
  return place;
}

export function SectionPart({ section, depth = 0 }: { section: Section; depth?: number }) {
  const open = isOpen(section);
  const place = useAim(section);
  const flip = (event: Event) => {
    event.preventDefault(); // the signal opens it, so that a field can be gone to
    opened.value = new Map(opened.value).set(section.key, !open);
  };
  const says = [section.says, section.more].filter(Boolean);
  return (
    <details ref={place} class="section" open={open} data-section={section.key}>
      <summary onClick={flip}>
        <span class="section-title">{TITLES[section.key] ?? section.title}</span>
        <Brief of={section} />
      </summary>
      {open && (
        <div class="section-body">
          {says.map((text) => (
            <p class="quiet section-says" key={text}>
              <Said text={text} />
            </p>
          ))}
          {section.note && section.key !== "" && <p class="remark">Noted in the file: {section.note}</p>}
          {section.problem && <ProblemText problem={section.problem} />}
          <Inside section={section} depth={depth} />
        </div>
      )}
    </details>
  );
}

export function Sections({ all }: { all: readonly Section[] }) {
  const found = all.map((s) => filtered(s, sought.value)).filter((s) => s !== null);
  if (!found.length) return <p>Nothing in the job is called that.</p>;
  return (
    <div class="sections">
      {found.map((section) => (
        <SectionPart key={section.key} section={section} />
      ))}
    </div>
  );
}
