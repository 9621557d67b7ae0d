// SPDX-License-Identifier: Apache-2.0
// What is still open before the part may be sold: each by name, with what would settle it.

import { byHand } from "../shell/by_hand";
import { Mark } from "../shell/Mark";
import { byOperation, prepare, wordsOf, type Open } from "./settle";

function One({ of }: { of: Open }) {
  return (
    <li class="open-one">
      <Mark stand={of.state} />
      <div>
        <p class={of.state === "not met" ? "is-failing" : ""}>
          <b>{of.statement}</b>
        </p>
        <p>
          {of.state}
          {of.found && <>: {of.found}</>}
        </p>
        <p class="quiet">{byHand(of.do)}</p>
      </div>
      <a class="button on-screen" href={`#/${of.operation.id}`} onClick={() => prepare(of)}>
        {wordsOf(of)}
      </a>
    </li>
  );
}

export function Missing({ rows }: { rows: readonly Open[] }) {
  const failing = rows.filter((r) => r.state === "not met").length;
  const unseen = rows.length - failing;
  const said = [failing && `${failing} not met`, unseen && `${unseen} without evidence`].filter(Boolean).join(", ");
  return (
    <>
      <p class="log-verdict" role="status">
        <Mark stand="not met" /> <span>Not yet: {said}.</span>
      </p>
      {byOperation(rows).map(([operation, own]) => (
        <section key={operation.id} aria-label={operation.word}>
          <h2 class="open-head">
            {operation.number} {operation.word}
          </h2>
          <ul class="open-list">
            {own.map((of) => (
              <One key={of.id} of={of} />
            ))}
          </ul>
        </section>
      ))}
    </>
  );
}
