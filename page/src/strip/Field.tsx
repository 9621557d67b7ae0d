// SPDX-License-Identifier: Apache-2.0
// One line of a form, and what is wrong with it, in the words of the command.

import { useId } from "preact/hooks";
import type { PlanAnswer } from "../prove/plan_answer";
import type { Problem } from "../protocol";
import { Said } from "../shell/Said";
import { answered } from "../state";
import type { FormField, Value } from "./form";

export interface FieldProps {
  field: FormField;
  value: Value;
  /** Dotted, as a problem names it: `rows.0.poured` */
  at: string;
  problems: ReadonlyMap<string, Problem>;
  put: (value: Value) => void;
  /** In a table the column's head says what it is */
  bare?: boolean;
}

const YES_NO: readonly [boolean, string][] = [
  [true, "yes"],
  [false, "no"],
];

function Switch({ field, value, put, id, at, problems }: FieldProps & { id: string }) {
  return (
    <span class="yes-no" role="radiogroup" aria-label={field.says} aria-invalid={problems.has(at)} tabIndex={-1}>
      {YES_NO.map(([is, word]) => (
        <label key={word} class="pick">
          <input type="radio" name={id} checked={value === is} onChange={() => put(is)} />
          {word}
        </label>
      ))}
    </span>
  );
}

function Words({ field, value, put, id, at, problems }: FieldProps & { id: string }) {
  return (
    <select
      id={id}
      aria-label={field.says}
      aria-invalid={problems.has(at)}
      value={String(value ?? "")}
      onChange={(e) => put((e.target as HTMLSelectElement).value)}
    >
      <option value="">choose …</option>
      {field.words!.map((word) => (
        <option key={word} value={word}>
          {word}
        </option>
      ))}
    </select>
  );
}

/** Long texts; a quantity or a name is short. */
const isLong = (field: FormField): boolean => field.key === "note" || field.key === "text";

function Text({ field, value, put, id, at, problems, bare }: FieldProps & { id: string }) {
  const props = {
    id,
    value: String(value ?? ""),
    "aria-label": bare ? field.says : undefined,
    "aria-invalid": problems.has(at),
    "aria-describedby": problems.has(at) ? `${id}-wrong` : undefined,
    placeholder: field.kind === "quantity" ? exampleOf(field.needed ?? "") : field.kind === "place" ? "x, y, z" : undefined,
    onInput: (e: Event) => put((e.target as HTMLInputElement).value),
  };
  if (isLong(field) && !bare) return <textarea rows={3} {...props} />;
  const hints = field.key === "stage" ? stages() : [];
  return (
    <>
      <input
        type="text"
        autocomplete="off"
        class={field.kind === "quantity" ? "is-quantity" : ""}
        list={hints.length ? `${id}-hints` : undefined}
        {...props}
      />
      {hints.length > 0 && (
        <datalist id={`${id}-hints`}>
          {hints.map((words) => (
            <option value={words} key={words} />
          ))}
        </datalist>
      )}
    </>
  );
}

/** Of the programme, as `3 Circles, 0.30 g, left and right`: what a session was a session of. */
const stages = (): string[] =>
  (answered<PlanAnswer>("plan")?.answer.stages ?? []).map(({ number, name }) => `${number} ${name}`);

/** The unit of what is asked, as in `0.001 L to 100 L`. */
const exampleOf = (needed: string): string => /\d\s*([^\d\s,]+)\s+to\b/.exec(needed)?.[1] ?? "";

/** What was left empty needs no more than its name; of a place, one value may be missing. */
function WrongWords({ problem, needed }: { problem: Problem; needed: string | null }) {
  if (needed) return <>needed: {needed}{problem.code === "REC-303" ? "" : `; ${problem.found || "one"} is not so: ${problem.do}`}</>;
  if (problem.code === "REC-303") return <>fill it in</>;
  return (
    <>
      <b>needed:</b> {problem.needed}; {problem.do}
    </>
  );
}

interface WrongProps {
  at: string;
  id?: string;
  problems: ReadonlyMap<string, Problem>;
  /** Of several values in one line, where the problem is one value's */
  needed?: string | null;
}

export function Wrong({ at, id, problems, needed = null }: WrongProps) {
  const problem = problems.get(at);
  if (!problem) return null;
  return (
    <span class="field-wrong" id={id} role="alert">
      <WrongWords problem={problem} needed={needed} />
    </span>
  );
}

/** Several values in one line are wrong where one of them is. */
function wholeLine(problems: ReadonlyMap<string, Problem>, at: string): ReadonlyMap<string, Problem> {
  const one = [...problems].find(([key]) => key.startsWith(`${at}.`));
  return one ? new Map(problems).set(at, one[1]) : problems;
}

export function Field(given: FieldProps) {
  const isPlace = given.field.kind === "place";
  const props = isPlace ? { ...given, problems: wholeLine(given.problems, given.at) } : given;
  const { field, at, problems, bare } = props;
  const needed = isPlace && !given.problems.has(at) ? (field.needed ?? null) : null;
  const id = useId();
  const wrong = problems.has(at);
  const input =
    field.kind === "switch" ? (
      <Switch {...props} id={id} />
    ) : field.kind === "words" ? (
      <Words {...props} id={id} />
    ) : (
      <Text {...props} id={id} />
    );
  if (bare) {
    return (
      <span class={wrong ? "is-wrong" : ""}>
        {input}
        <Wrong at={at} id={`${id}-wrong`} problems={problems} needed={needed} />
      </span>
    );
  }
  const range = field.kind === "quantity" || field.kind === "number" ? ` (${field.needed})` : "";
  return (
    <div class={`form-row ${wrong ? "is-wrong" : ""}`}>
      <label for={id}>
        {field.label}
        {!field.required && <span class="quiet"> may stay empty</span>}
        <span class="quiet says">
          <Said text={field.says} />
          {range}
        </span>
      </label>
      <div>
        {input}
        <Wrong at={at} id={`${id}-wrong`} problems={problems} needed={needed} />
      </div>
    </div>
  );
}
