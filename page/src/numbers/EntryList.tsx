// SPDX-License-Identifier: Apache-2.0
// A list of values, such as the points of an outline: one row each, one more, one less.

import { useSignal } from "@preact/signals";
import { ProblemText } from "../shell/Problems";
import { Entry } from "./Entry";
import type { Field } from "./form";
import { addPart, takePart, type Trouble as Refused } from "./part";
import { Trouble } from "./Trouble";
import { idOf } from "./typing";

function Row({ of, take }: { of: Field; take: () => void }) {
  return (
    <li>
      <span id={`${idOf(of.key)}-label`} class="entry-number">
        {of.label}
      </span>
      <Entry field={of} />
      <button class="plain" onClick={take} aria-label={`Take out ${of.label}`}>
        Take out
      </button>
      <Trouble of={of} />
    </li>
  );
}

export function EntryList({ field }: { field: Field }) {
  const entries = field.entries ?? [];
  const trouble = useSignal<Refused | null>(null);
  const last = entries.at(-1)?.typed ?? null;
  const more = async () => (trouble.value = await addPart(field.key, last));
  const take = async (of: Field) => (trouble.value = await takePart(of.key, null, of.within));
  return (
    <div class="entry-list">
      <ol>
        {entries.map((entry) => (
          <Row key={entry.key} of={entry} take={() => void take(entry)} />
        ))}
      </ol>
      <button onClick={() => void more()}>One more, like the last</button>
      {trouble.value?.said && <p class="problem">{trouble.value.said}</p>}
      {trouble.value?.problems.map((problem) => <ProblemText key={problem.where} problem={problem} />)}
    </div>
  );
}
