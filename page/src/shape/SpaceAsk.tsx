// SPDX-License-Identifier: Apache-2.0
// How far the free space may go, and what it is made with; asked for by a key.

import { useEffect, useId, useRef } from "preact/hooks";
import { Asking } from "../prove/Asking";
import { byHand } from "../shell/by_hand";
import { ask } from "../state";
import { args, example, FIELDS, isOfField, MORE, ofSpace, problemsOf, typed, type Ask } from "./asked";

export function SpaceAsk() {
  const place = useRef<HTMLFormElement>(null);
  const last = ofSpace.value.at(-1);
  const failed = last?.state === "failed" ? last.id : null;
  useEffect(() => {
    if (failed) place.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
  }, [failed]);
  const saidMore = MORE.some(({ key }) => args.value[key]);
  return (
    <form
      class="ask-form on-screen"
      ref={place}
      onSubmit={(event) => {
        event.preventDefault();
        void ask("space", args.value);
      }}
    >
      <p class="quiet">How far it may go, each with its unit, such as {example()}. Left empty, it is what stands there in grey.</p>
      <Fields list={FIELDS} />
      <details class="fold" open={saidMore}>
        <summary>Ahead and behind, wall, corners, grid</summary>
        <Fields list={MORE} />
      </details>
      <Asking
        question="space"
        args={args.value}
        words="Find the free space"
        doing="Looking for free space"
        again="Find it anew"
        elsewhere={isOfField}
      >
        <span class="quiet">Takes half a minute or more; you can go on meanwhile.</span>
      </Asking>
    </form>
  );
}

function Fields({ list }: { list: readonly Ask[] }) {
  return (
    <div class="ask-fields">
      {list.map((of) => (
        <Entry of={of} key={of.key} />
      ))}
    </div>
  );
}

function Entry({ of: { key, label, empty, says } }: { of: Ask }) {
  const id = useId();
  const problems = problemsOf(key);
  const wrong = problems.length > 0;
  return (
    <p class={`ask-field${wrong ? " is-wrong" : ""}`}>
      <label for={id}>{label}</label>
      <input
        id={id}
        name={key}
        autocomplete="off"
        value={typed.value[key] ?? ""}
        placeholder={empty()}
        aria-invalid={wrong}
        aria-describedby={wrong ? `${id}w ${id}s` : `${id}s`}
        onInput={(event) => (typed.value = { ...typed.value, [key]: event.currentTarget.value })}
      />
      {wrong && (
        <small class="ask-wrong" id={`${id}w`} role="alert">
          {problems.map(({ code, found, needed, do: mend }) => (
            <span key={code}>
              <b>found</b> {found}; <b>needed</b> {needed}; {byHand(mend)} [{code}]
            </span>
          ))}
        </small>
      )}
      <small class="quiet" id={`${id}s`}>
        {says}
      </small>
    </p>
  );
}
