// SPDX-License-Identifier: Apache-2.0
// Where one value is typed. Enter or leaving the field puts it in the file, Escape takes it back.

import { drafts, save, typed } from "./draft";
import { EntryList } from "./EntryList";
import { FileEntry } from "./FileEntry";
import type { Field } from "./form";
import { canSplit, Parts } from "./Parts";
import { FEW, idOf, keyed, leaveField, textOf } from "./typing";

const YES: readonly (readonly [string, string])[] = [
  ["true", "yes"],
  ["false", "no"],
];

export function TextEntry({ field, wide = false }: { field: Field; wide?: boolean }) {
  const draft = drafts.value.get(field.key);
  const common = {
    id: idOf(field.key),
    value: textOf(field),
    placeholder: field.default ?? "",
    "aria-describedby": `${idOf(field.key)}-about`,
    "aria-invalid": !!(draft?.problems ?? field.problem),
    autocomplete: "off",
    spellcheck: false,
    onInput: (e: Event) => typed(field.key, (e.target as HTMLInputElement).value),
    onBlur: () => leaveField(field),
    onKeyDown: (e: KeyboardEvent) => keyed(e, field),
  };
  if (textOf(field).length > 60) return <textarea {...common} rows={4} />;
  const narrow = !wide && (field.kind === "quantity" || field.kind === "number");
  return <input {...common} type="text" class={narrow ? "" : "is-wide"} />;
}

function Words({ field, words }: { field: Field; words: readonly (readonly [string, string])[] }) {
  const now = textOf(field) || null;
  return (
    <span class="words" role="group" aria-labelledby={`${idOf(field.key)}-label`}>
      {words.map(([word, shown]) => (
        <button
          key={word}
          aria-pressed={(now ?? field.default) === word}
          class={now === null ? "is-default" : ""}
          onClick={() => void save(field.key, word)}
        >
          {shown}
        </button>
      ))}
      {now !== null && !field.required && now !== field.default && (
        <button class="plain" onClick={() => void save(field.key, null)}>
          As usual
        </button>
      )}
    </span>
  );
}

function Choice({ field }: { field: Field }) {
  const chosen = (e: Event) => void save(field.key, (e.target as HTMLSelectElement).value);
  return (
    <select id={idOf(field.key)} value={textOf(field)} aria-describedby={`${idOf(field.key)}-about`} onChange={chosen}>
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
        <button key={word} class="plain" aria-pressed={textOf(field) === word} onClick={() => void save(field.key, word)}>
          {word}
        </button>
      ))}
    </span>
  );
}

const BARE = /^\s*[-+]?\d+([.,]\d+)?\s*$/;

/** A number without its unit: one more touch gives it one. */
function UnitKeys({ field }: { field: Field }) {
  const text = drafts.value.get(field.key)?.text ?? "";
  if (!field.units.length || !BARE.test(text)) return null;
  const whole = (unit: string) => `${text.trim().replace(",", ".")} ${unit}`;
  return (
    <span class="unit-keys">
      {field.units.map((unit) => (
        // before the field is left, which would send the bare number
        <button key={unit} onPointerDown={(e) => e.preventDefault()} onClick={() => void save(field.key, whole(unit))}>
          {unit}
        </button>
      ))}
    </span>
  );
}

export function Entry({ field }: { field: Field }) {
  if (field.kind === "file") return <FileEntry field={field} />;
  if (field.kind === "switch") return <Words field={field} words={YES} />;
  if (field.kind === "words") {
    const pairs = field.words.map((word) => [word, word] as const);
    return pairs.length <= FEW ? <Words field={field} words={pairs} /> : <Choice field={field} />;
  }
  if (field.parts && canSplit(textOf(field))) return <Parts field={field} />;
  if (field.entries?.length) return <EntryList field={field} />;
  return (
    <>
      <TextEntry field={field} />
      <UnitKeys field={field} />
      {field.words.length > 0 && <Instead field={field} />}
    </>
  );
}
