// SPDX-License-Identifier: Apache-2.0
// What every box to type in does alike.

import { drafts, put, save } from "./draft";
import type { Field } from "./form";

/** Few words are buttons to hit, many are a list to choose from. */
export const FEW = 4;

export const textOf = (field: Field): string => drafts.value.get(field.key)?.text ?? field.typed ?? "";

export const idOf = (key: string): string => `field-${key.replaceAll(/[^\w-]/g, "_")}`;

/** Leaving a field saves it only where something was typed since the last answer. */
export function leaveField(field: Field): void {
  const draft = drafts.value.get(field.key);
  const open = draft && !draft.saving && !draft.problems && !draft.theirs && !draft.said;
  if (open) void save(field.key, draft.text);
}

export function keyed(event: KeyboardEvent, field: Field): void {
  const draft = drafts.value.get(field.key);
  if (event.key === "Escape" && draft) {
    put(field.key, null);
    event.stopPropagation();
  }
  const newLine = event.target instanceof HTMLTextAreaElement && event.shiftKey;
  if (event.key !== "Enter" || newLine) return;
  event.preventDefault();
  if (draft && !draft.saving && !draft.theirs) void save(field.key, draft.text);
}
