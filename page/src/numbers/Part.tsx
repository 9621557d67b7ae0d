// SPDX-License-Identifier: Apache-2.0
// Forms for one more entry of a list, or for a section that the job does not have yet.

import { useSignal, type Signal } from "@preact/signals";
import { ProblemText } from "../shell/Problems";
import { Said } from "../shell/Said";
import { FileWays } from "./FileWays";
import type { Field, Section } from "./form";
import { addPart, takePart, type Trouble } from "./part";

type Values = Record<string, string>;

const SWITCH = ["true", "false"];

function Box({ field, values, id }: { field: Field; values: Signal<Values>; id: string }) {
  const now = values.value[field.key] ?? "";
  const take = (e: Event) => {
    values.value = { ...values.value, [field.key]: (e.target as HTMLInputElement).value };
  };
  if (field.kind === "file") {
    const chosen = (name: string) => (values.value = { ...values.value, [field.key]: name });
    return (
      <>
        <input id={id} class="is-wide" value={now} onInput={take} autocomplete="off" spellcheck={false} />
        <FileWays field={field} id={id} now={now} to={null} chosen={chosen} />
      </>
    );
  }
  const words = field.kind === "switch" ? SWITCH : field.kind === "words" ? field.words : [];
  if (!words.length) {
    return <input id={id} value={now} onInput={take} autocomplete="off" spellcheck={false} />;
  }
  return (
    <select id={id} value={now} onChange={take}>
      <option value="">{field.default ?? "–"}</option>
      {words.map((word) => (
        <option key={word}>{word}</option>
      ))}
    </select>
  );
}

function about(field: Field): string {
  const empty = field.required ? "cannot stay empty" : field.default ? `left empty: ${field.default}` : "";
  const example = field.example ? `such as ${field.example}` : "";
  return [field.needed, example, empty].filter(Boolean).join(" · ");
}

/** Its own fields, then those of the sections in it; lists inside come once it is there. */
function fieldsOf(like: Section): Field[] {
  return [...like.fields, ...like.sections.filter((s) => s.items === null).flatMap(fieldsOf)];
}

function Rows({ like, values, name }: { like: Section; values: Signal<Values>; name: string }) {
  const fields = fieldsOf(like);
  const kind = values.value[fields.find((f) => f.name === "kind")?.key ?? ""];
  const shown = fields.filter((f) => !f.kinds || (!!kind && kind in f.kinds));
  return (
    <>
      {shown.map((field) => {
        const id = `${name}-${field.key}`.replaceAll(/[^\w-]/g, "_");
        return (
          <div class="field" key={field.key}>
            <div class="field-name">
              <label for={id}>{field.label}</label>
              {field.says && (
                <p>
                  <Said text={field.says} />
                </p>
              )}
            </div>
            <div class="field-entry">
              <Box field={field} values={values} id={id} />
              <p class="field-needed">{about(field)}</p>
            </div>
          </div>
        );
      })}
    </>
  );
}

function Refusal({ of }: { of: Trouble | null }) {
  if (!of) return null;
  return (
    <>
      {of.said && (
        <p class="problem" role="alert">
          {of.said}
        </p>
      )}
      {of.problems.map((problem) => (
        <ProblemText key={problem.code + problem.where} problem={problem} />
      ))}
    </>
  );
}

/** Keys as they are inside the part. */
function inside(values: Values, to: string): Values {
  const typed = Object.entries(values).filter(([, text]) => text.trim());
  return Object.fromEntries(typed.map(([key, text]) => [key.startsWith(`${to}.`) ? key.slice(to.length + 1) : key, text]));
}

function Ways({ example, leave }: { example: () => void; leave: () => void }) {
  return (
    <p class="tools">
      <button class="main">Put it in</button>
      <button type="button" onClick={example}>
        Put an example in, to change
      </button>
      <button type="button" class="plain" onClick={leave}>
        Leave it
      </button>
    </p>
  );
}

export function AddPart({ to, like, word }: { to: string; like: Section; word: string }) {
  const open = useSignal(false);
  const values = useSignal<Values>({});
  const trouble = useSignal<Trouble | null>(null);
  const put = async (given: Values | null) => {
    if (given && !Object.keys(given).length) {
      trouble.value = { said: "Nothing is typed yet; fill in what cannot stay empty.", problems: [] };
      return;
    }
    trouble.value = await addPart(to, given);
    if (!trouble.value) [open.value, values.value] = [false, {}];
  };
  const small = word.toLowerCase();
  if (!open.value) {
    return (
      <p class="tools">
        <button onClick={() => (open.value = true)}>Add: {small}</button>
      </p>
    );
  }
  return (
    <form
      class="new-entry"
      onSubmit={(e) => {
        e.preventDefault();
        void put(inside(values.value, to));
      }}
    >
      <Rows like={like} values={values} name={`new-${to}`} />
      <Refusal of={trouble.value} />
      <Ways example={() => void put(null)} leave={() => (open.value = false)} />
    </form>
  );
}

export function TakeOut({ of }: { of: Section }) {
  const trouble = useSignal<Trouble | null>(null);
  const take = async () => (trouble.value = await takePart(of.key, of.seen));
  return (
    <>
      <p class="tools">
        <button onClick={() => void take()}>Take out: {of.title.toLowerCase()}</button>
        <span class="quiet">Undo brings it back.</span>
      </p>
      <Refusal of={trouble.value} />
    </>
  );
}
