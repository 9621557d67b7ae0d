// SPDX-License-Identifier: Apache-2.0
// What is wrong with what was typed or brought in, in the words of the commands.

import type { Problem } from "../protocol";
import { fieldsByKey } from "../numbers/form";
import { goTo } from "../numbers/goal";
import { byHand } from "./by_hand";

export function ProblemText({ problem }: { problem: Problem }) {
  return (
    <div class="problem" role="alert">
      <p>
        <strong>{byHand(problem.where)}</strong> <span class="quiet">[{problem.code}]</span>
      </p>
      <dl class="facts">
        <dt>found</dt>
        <dd>{problem.found}</dd>
        <dt>needed</dt>
        <dd>{problem.needed}</dd>
        <dt>do</dt>
        <dd>{byHand(problem.do)}</dd>
      </dl>
    </div>
  );
}

/** `job.yaml:12  oil.fill` is about the field `oil.fill`, where the sheet of numbers has it. */
function keyOf(problem: Problem): string | null {
  const key = problem.where.split(/\s+/).at(-1) ?? "";
  return fieldsByKey.value.has(key) ? key : null;
}

export function ProblemList({ problems }: { problems: readonly Problem[] }) {
  return (
    <ul class="problems">
      {problems.map((problem) => {
        const key = keyOf(problem);
        return (
          <li key={problem.code + problem.where}>
            <ProblemText problem={problem} />
            {key && <button onClick={() => goTo(key)}>Mend it</button>}
          </li>
        );
      })}
    </ul>
  );
}
