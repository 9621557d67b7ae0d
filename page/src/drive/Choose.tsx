// SPDX-License-Identifier: Apache-2.0
// Which manoeuvre, with which doors and which oil; and what is otherwise than in the job, for once.

import { useId } from "preact/hooks";
import { Said } from "../shell/Said";
import { DOOR_WORDS, DOORS, type DoorsAre } from "./answer";
import {
  choiceOf,
  chosen,
  current,
  doors,
  forget,
  inWords,
  keyOf,
  kindOf,
  kinds,
  logs,
  oil,
  options,
  own,
  samples,
  seed,
  start,
  type,
  typed,
  type Option,
} from "./choice";

export function Choose() {
  const choice = current.value!;
  const [what, how, which] = [useId(), useId(), useId()];
  return (
    <form class="drive-choose" onSubmit={(event) => event.preventDefault()}>
      <div class="drive-row">
        <p class="drive-ask drive-what">
          <label for={what}>Manoeuvre</label>
          <select
            id={what}
            value={keyOf(choice)}
            onChange={(event) => (chosen.value = choiceOf(event.currentTarget.value))}
          >
            <Choices group="own" words="Of the job" names={own.value.map((m) => m.name)} />
            <Choices group="kind" words="Another, said here" names={kinds.value} />
            <Choices group="log" words="As logged" names={logs.value} />
          </select>
        </p>
        <p class="drive-ask">
          <label for={how}>Doors</label>
          <select
            id={how}
            value={doors.value}
            onChange={(event) => (doors.value = event.currentTarget.value as DoorsAre)}
          >
            {DOORS.map((word) => (
              <option value={word} key={word}>
                {DOOR_WORDS[word]}
              </option>
            ))}
          </select>
        </p>
        <p class="drive-ask">
          <label for={which}>Oil</label>
          <input
            id={which}
            list={`${which}l`}
            value={oil.value}
            placeholder="as the job says"
            onChange={(event) => (oil.value = event.currentTarget.value)}
          />
          <datalist id={`${which}l`}>
            <option value="hot" />
            <option value="cold" />
            <option value="60 degC" />
          </datalist>
        </p>
      </div>
      <What />
      <StartAndChance />
    </form>
  );
}

const BESIDE = [
  {
    of: start,
    label: "Oil at first",
    hint: "settled",
    says: "In each compartment, such as A=1.2 L, B=0.8 L; the letters are those of 20 Hold. Left empty, it has settled.",
  },
  {
    of: samples,
    label: "Samples for the chances",
    hint: "none",
    says: "How often a requirement fails when fill, openings and gaps are drawn at random, such as 200. More take longer.",
  },
  { of: seed, label: "Their seed", hint: "1", says: "The same seed draws the same samples." },
] as const;

function StartAndChance() {
  const id = useId();
  const said = BESIDE.some(({ of }) => of.value.trim());
  return (
    <details open={said}>
      <summary>Where the oil is at first, and chances</summary>
      <div class="drive-fields">
        {BESIDE.map(({ of, label, hint, says }, k) => (
          <p class="drive-ask" key={label}>
            <label for={`${id}${k}`}>{label}</label>
            <input
              id={`${id}${k}`}
              value={of.value}
              placeholder={hint}
              aria-describedby={`${id}${k}s`}
              autocomplete="off"
              onChange={(event) => (of.value = event.currentTarget.value)}
            />
            <small class="quiet" id={`${id}${k}s`}>
              {says}
            </small>
          </p>
        ))}
      </div>
    </details>
  );
}

function Choices({ group, words, names }: { group: string; words: string; names: string[] }) {
  if (!names.length) return null;
  return (
    <optgroup label={words}>
      {names.map((name) => (
        <option value={`${group}/${name}`} key={name}>
          {name}
        </option>
      ))}
    </optgroup>
  );
}

/** What is chosen, and what can be said of it. */
function What() {
  const choice = current.value!;
  const section = choice.group === "own" ? own.value.find((m) => m.name === choice.name)?.section : null;
  const said = Object.values(typed.value[keyOf(choice)] ?? {}).some((text) => text.trim());
  const needed = choice.group === "kind" ? options.value.filter((o) => o.need !== "may") : [];
  const others = options.value.filter((o) => !needed.includes(o));
  const either = needed.some((o) => o.need === "either");
  return (
    <>
      {section && <p class="quiet">In the job: {inWords(section)}.</p>}
      {choice.group === "log" && <p class="quiet">The log's own accelerations, in the order they were driven.</p>}
      {needed.length > 0 && <Fields list={needed} />}
      {either && (
        <p class="quiet">
          {kindOf(choice) === "circle" ? "Accel or speed, and duration or laps: one of each." : "Accel or speed: one of the two."}
        </p>
      )}
      {others.length > 0 && (
        <details>
          <summary>{needed.length ? "More" : "Otherwise than in the job, for this once"}</summary>
          <Fields list={others} />
          {said && (
            <p class="tools">
              <button type="button" onClick={() => forget(choice)}>
                {section ? "All as in the job again" : "Empty all"}
              </button>
            </p>
          )}
        </details>
      )}
    </>
  );
}

function Fields({ list }: { list: readonly Option[] }) {
  return (
    <div class="drive-fields">
      {list.map((option) => (
        <Entry option={option} key={option.field.name} />
      ))}
    </div>
  );
}

function Entry({ option: { field, says, need } }: { option: Option }) {
  const choice = current.value!;
  const id = useId();
  const text = typed.value[keyOf(choice)]?.[field.name] ?? "";
  const words = field.kind === "switch" ? ["true", "false"] : field.words;
  const put = (event: { currentTarget: { value: string } }): void =>
    type(choice, field.name, event.currentTarget.value);
  const hint = says ?? (field.example && `such as ${field.example}`) ?? "";
  return (
    <p class="drive-ask">
      <label for={id}>
        {field.label}
        {need === "needed" && says === null && <span class="quiet"> needed</span>}
      </label>
      {words.length && field.kind !== "quantity" ? (
        <select id={id} value={text} onChange={put} aria-describedby={`${id}s`}>
          <option value="">{says ?? "as usual"}</option>
          {words.map((word) => (
            <option value={word} key={word}>
              {word}
            </option>
          ))}
        </select>
      ) : (
        <input id={id} value={text} placeholder={hint} onChange={put} aria-describedby={`${id}s`} />
      )}
      <small class="quiet" id={`${id}s`}>
        <Said text={field.says} />
      </small>
    </p>
  );
}
