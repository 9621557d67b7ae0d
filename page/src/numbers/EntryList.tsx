// SPDX-License-Identifier: Apache-2.0
// A list of values, such as the points of an outline: one row each, one more, one less.

import { useSignal } from "@preact/signals";
import { ProblemText } from "../shell/Problems";
import { drafts } from "./draft";
import { Entry } from "./Entry";
import type { Field } from "./form";
import { addPart, takePart, type Trouble } from "./part";
import { idOf } from "./typing";

function Row({ of, take }: { of: Field; take: () => void }) {
  const draft = drafts.value.get(of.key);
  const problems = draft ? draft.problems : of.problem ? [of.problem] : [];
  return (
    <li>
      <span id={`${idOf(of.key)}-label`} class="entry-number">
        {of.label}
      </span>
      <Entry field={of} />
      <button class="plain" onClick={take} aria-label={`Take out ${of.label}`}>
        Take out
      </button>
      {problems?.map((problem) => <ProblemText key={problem.where} problem={problem} />)}
    </li>
  );
}

export function EntryList({ field }: { field: Field }) {
  const entries = field.entries ?? [];
  const trouble = useSignal<Trouble | null>(null);
  const last = entries.at(-1)?.typed ?? null;
  const more = async () => (trouble.value = await addPart(field.key, last));
  const take = async (key: string) => (trouble.value = await takePart(key, null));
  return (
    <div class="entry-list">
      <ol>
        {entries.map((entry) => (
          <Row key={entry.key} of={entry} take={() => void take(entry.key)} />
        ))}
      </ol>
      <button onClick={() => void more()}>One more, like the last</button>
      {trouble.value?.said && <p class="problem">{trouble.value.said}</p>}
      {trouble.value?.problems.map((problem) => <ProblemText key={problem.where} problem={problem} />)}
    </div>
  );
}
