// SPDX-License-Identifier: Apache-2.0
// A place or a direction: each of its numbers in a box of its own, one value in the file.

import { typed } from "./draft";
import type { Field } from "./form";
import { idOf, keyed, leaveField, textOf } from "./typing";

/** `[1 mm, 2 mm, 3 mm]`; lists in lists are typed as they are. */
export const canSplit = (text: string): boolean => !/[[\]{}"']/.test(text.replace(/^\s*\[|\]\s*$/g, ""));

function pieces(text: string, count: number): string[] {
  const inner = text.replace(/^\s*\[|\]\s*$/g, "");
  const found = inner.trim() ? inner.split(",").map((piece) => piece.trim()) : [];
  return Array.from({ length: count }, (_, i) => found[i] ?? "");
}

export function Parts({ field }: { field: Field }) {
  const parts = field.parts ?? [];
  const texts = pieces(textOf(field), parts.length);
  const fallback = pieces(field.default ?? "", parts.length);
  const type = (at: number, text: string) => {
    const next = texts.map((old, i) => (i === at ? text.replaceAll(",", ".") : old));
    typed(field.key, next.some((t) => t.trim()) ? `[${next.join(", ")}]` : "");
  };
  /** Going on to the next number is not leaving the value. */
  const left = (event: FocusEvent) => {
    const group = (event.currentTarget as Element).closest(".parts");
    if (!group?.contains(event.relatedTarget as Node | null)) leaveField(field);
  };
  return (
    <span class="parts" role="group" aria-labelledby={`${idOf(field.key)}-label`}>
      {parts.map((part, at) => (
        <label key={part.label}>
          {part.label}
          <input
            id={at === 0 ? idOf(field.key) : undefined}
            value={texts[at]}
            placeholder={fallback[at] ?? ""}
            aria-describedby={`${idOf(field.key)}-about`}
            autocomplete="off"
            spellcheck={false}
            onInput={(e) => type(at, (e.target as HTMLInputElement).value)}
            onBlur={left}
            onKeyDown={(e) => keyed(e, field)}
          />
        </label>
      ))}
    </span>
  );
}
