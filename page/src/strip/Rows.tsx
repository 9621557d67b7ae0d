// SPDX-License-Identifier: Apache-2.0
// Entries of a form of which there may be any number: a table, a list of lines.

import { Said } from "../shell/Said";
import { Field, Wrong, type FieldProps } from "./Field";
import { addedRow, type Value, type Values } from "./form";

const rowsOf = (value: Value): Value[] => (Array.isArray(value) ? value : []);

function without(rows: readonly Value[], k: number): Value[] {
  return rows.filter((_, i) => i !== k);
}

/** What the job gives of a row, such as which door it is, is not typed. */
const isGiven = (field: FieldProps["field"], key: string): boolean =>
  !!field.fixed && !!field.given?.some((row) => key in row);

export function Rows({ field, value, at, problems, put }: FieldProps) {
  const rows = rowsOf(value);
  const set = (k: number, key: string, now: Value) =>
    put(rows.map((row, i) => (i === k ? { ...(row as Values), [key]: now } : row)));
  return (
    <fieldset class="form-list">
      <legend>
        {field.label} <span class="quiet">{field.says}</span>
      </legend>
      <Wrong at={at} problems={problems} />
      {rows.length > 0 && (
        <div class="scroll">
          <table class="form-table">
            <thead>
              <tr>
                {field.fields!.map((f) => (
                  <th key={f.key} scope="col" class={`is-${f.kind}`}>
                    {f.label}
                    {!isGiven(field, f.key) && <span class="says"><Said text={f.says} /></span>}
                  </th>
                ))}
                <th scope="col">
                  <span class="unseen">Take out</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {rows.map((row, k) => (
                <tr key={k}>
                  {field.fields!.map((f) => (
                    <td key={f.key} data-label={f.label}>
                      {isGiven(field, f.key) && k < field.given!.length ? (
                        <b>{String((row as Values)[f.key] ?? "")}</b>
                      ) : (
                        <Field
                          field={f}
                          value={(row as Values)[f.key] ?? ""}
                          at={`${at}.${k}.${f.key}`}
                          problems={problems}
                          put={(now) => set(k, f.key, now)}
                          bare
                        />
                      )}
                    </td>
                  ))}
                  <td>
                    {!field.fixed && (
                      <button class="plain" aria-label={`Take out line ${k + 1}`} onClick={() => put(without(rows, k))}>
                        ×
                      </button>
                    )}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      {!field.fixed && (
        <button type="button" onClick={() => put([...rows, addedRow(field)])}>
          {rows.length ? "One more" : `Add one`}
        </button>
      )}
    </fieldset>
  );
}

/** Texts, a line each; of records that may be set aside, the names there are. */
export function Lines({ field, value, at, problems, put }: FieldProps) {
  const lines = rowsOf(value).map(String);
  if (field.words?.length) {
    const turn = (word: string) => put(lines.includes(word) ? lines.filter((l) => l !== word) : [...lines, word]);
    return (
      <fieldset class="form-list">
        <legend>
          {field.label} <span class="quiet">{field.says}</span>
        </legend>
        <Wrong at={at} problems={problems} />
        {field.words.map((word) => (
          <label key={word} class="pick">
            <input type="checkbox" checked={lines.includes(word)} onChange={() => turn(word)} />
            {word}
          </label>
        ))}
      </fieldset>
    );
  }
  return (
    <fieldset class="form-list">
      <legend>
        {field.label} <span class="quiet">{field.says}</span>
      </legend>
      {lines.map((line, k) => (
        <p class="tools" key={k}>
          <input
            type="text"
            aria-label={`${field.label}, line ${k + 1}`}
            value={line}
            onInput={(e) => put(lines.map((l, i) => (i === k ? (e.target as HTMLInputElement).value : l)))}
          />
          <button class="plain" aria-label={`Take out line ${k + 1}`} onClick={() => put(without(lines, k))}>
            ×
          </button>
          <Wrong at={`${at}.${k}`} problems={problems} />
        </p>
      ))}
      <button type="button" onClick={() => put([...lines, ""])}>
        {lines.length ? "One more" : "Add one"}
      </button>
    </fieldset>
  );
}
