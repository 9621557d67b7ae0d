// SPDX-License-Identifier: Apache-2.0
// Where one value is typed. Enter or leaving the field puts it in the file, Escape takes it back.

import { drafts, put, save } from "./draft";
import { FileEntry } from "./FileEntry";
import type { Field } from "./form";

/** Few words are buttons to hit, many are a list to choose from. */
const FEW = 4;

export const textOf = (field: Field): string =>
  drafts.value.get(field.key)?.text ?? field.typed ?? "";

export const idOf = (key: string): string => `field-${key.replaceAll(/[^\w-]/g, "_")}`;

export function describedBy(field: Field): string {
  return `${idOf(field.key)}-about`;
}

/** Leaving a field saves it only where something was typed since the last answer. */
export function leaveField(field: Field): void {
  const draft = drafts.value.get(field.key);
  if (draft && !draft.saving && !draft.problems && !draft.theirs) void save(field.key, draft.text);
}

function keyed(event: KeyboardEvent, field: Field): void {
  const draft = drafts.value.get(field.key);
  if (event.key === "Escape" && draft) {
    put(field.key, null);
    event.stopPropagation();
  }
  const lines = event.target instanceof HTMLTextAreaElement && event.shiftKey;
  if (event.key !== "Enter" || lines) return;
  event.preventDefault();
  if (draft && !draft.saving && !draft.theirs) void save(field.key, draft.text);
}

export function TextEntry({ field, wide = false }: { field: Field; wide?: boolean }) {
  const draft = drafts.value.get(field.key);
  const common = {
    id: idOf(field.key),
    value: textOf(field),
    placeholder: field.default ?? "",
    "aria-describedby": describedBy(field),
    "aria-invalid": !!(draft?.problems ?? field.problem),
    autocomplete: "off",
    spellcheck: false,
    onInput: (e: Event) => put(field.key, { text: (e.target as HTMLInputElement).value }),
    onBlur: () => leaveField(field),
    onKeyDown: (e: KeyboardEvent) => keyed(e, field),
  };
  const long = field.kind === "text" && textOf(field).length > 60;
  if (long) return <textarea {...common} rows={4} class="is-wide" />;
  return <input {...common} type="text" class={wide || field.kind !== "quantity" ? "is-wide" : ""} />;
}

function Words({ field }: { field: Field }) {
  const now = textOf(field) || null;
  return (
    <span class="words" role="group" aria-labelledby={`${idOf(field.key)}-label`}>
      {field.words.map((word) => (
        <button
          key={word}
          aria-pressed={(now ?? field.default) === word}
          class={now === null ? "is-default" : ""}
          onClick={() => void save(field.key, word)}
        >
          {word}
        </button>
      ))}
    </span>
  );
}

function Choice({ field }: { field: Field }) {
  const chosen = (e: Event) => void save(field.key, (e.target as HTMLSelectElement).value);
  return (
    <select id={idOf(field.key)} value={textOf(field)} aria-describedby={describedBy(field)} onChange={chosen}>
      <option value="">{field.default ? `as usual: ${field.default}` : "nothing"}</option>
      {field.words.map((word) => (
        <option key={word} value={word}>
          {word}
        </option>
      ))}
    </select>
  );
}

/** Words that may stand in the place of a quantity: `stock`, `off`. */
function Instead({ field }: { field: Field }) {
  return (
    <span class="instead">
      {field.words.map((word) => (
        <button
          key={word}
          class="plain"
          aria-pressed={textOf(field) === word}
          onClick={() => void save(field.key, word)}
        >
          {word}
        </button>
      ))}
    </span>
  );
}

export function Entry({ field }: { field: Field }) {
  if (field.kind === "file") return <FileEntry field={field} />;
  if (field.kind === "words" || field.kind === "switch") {
    return field.words.length <= FEW ? <Words field={field} /> : <Choice field={field} />;
  }
  return (
    <>
      <TextEntry field={field} />
      {field.words.length > 0 && <Instead field={field} />}
    </>
  );
}
