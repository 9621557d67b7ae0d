// SPDX-License-Identifier: Apache-2.0
// Why no pack was made: each thing that speaks against it, where it is seen to, and the way past it.

import { OPERATIONS } from "../operation";
import type { Problem, Requirement, Work } from "../protocol";
import { operationOf } from "../shell/belongs";
import { byHand } from "../shell/by_hand";
import { Mark } from "../shell/Mark";
import { shownLedger } from "../shown";
import { ask, ledger } from "../state";

/** A requirement not met, a part that cannot be made as it is, a part that could not be worked out. */
const AGAINST = ["MAKE-501", "MAKE-502", "MAKE-503"];

/** Whether a pack was refused, and would be made anyway. */
export const isRefused = (work: Work | null): boolean =>
  work?.state === "failed" && !work.stale && work.problems.length > 0 && work.problems.every((p) => AGAINST.includes(p.code));

export function Refused({ work }: { work: Work }) {
  const many = work.problems.length;
  return (
    <section class="refused" aria-label="Why no pack was made">
      <p class="log-verdict made-verdict not-met" role="alert">
        <Mark stand="not met" />
        <span>
          <b>Refused</b>: {many === 1 ? "one thing speaks" : `${many} things speak`} against making it as it is. Nothing was written.
        </span>
      </p>
      <ul class="against">
        {work.problems.map((problem) => (
          <One problem={problem} key={problem.code + problem.where} />
        ))}
      </ul>
      <p class="tools on-screen">
        <button onClick={() => void ask("make", { anyway: true })}>Make it anyway</button>
        <span class="quiet">Mend it first where you can. Made anyway, the pack says on its first page what speaks against it.</span>
      </p>
    </section>
  );
}

function One({ problem }: { problem: Problem }) {
  if (problem.code === "MAKE-501") return <Unmet problem={problem} />;
  const [part, ...place] = problem.where.split(": ");
  return (
    <li>
      <p>
        <b>{capital(part!)}</b> cannot be made as {part!.endsWith("s") ? "they are" : "it is"}
        {place.length > 0 && <> ({byHand(place.join(": "))})</>}: {problem.found}.
      </p>
      {problem.code === "MAKE-503" && (
        <p>
          Needed: {problem.needed}; {byHand(problem.do)}.
        </p>
      )}
      <p class="against-foot">
        {problem.code === "MAKE-502" && <Where of={part!} />}
        <Code of={problem} />
      </p>
    </li>
  );
}

const Where = ({ of }: { of: string }) =>
  of === "the bolt pattern" ? <a href="#/shape">See it in 15 Shape</a> : <span>Its section above has the places and the figures.</span>;

/** A requirement of the ledger, with its figures and the sheet that has more of it. */
function Unmet({ problem }: { problem: Problem }) {
  const id = problem.where.replace(/^requirements\./, "");
  const home = OPERATIONS.find((o) => o.id === operationOf(id));
  const line = ledger.value.find((one) => one.id === id);
  return (
    <li>
      <p>
        <b>{problem.needed}</b>: {line && line.value !== null ? `${figures(line)}; ` : ""}
        {problem.found}.
      </p>
      <p class="against-foot">
        {home && (
          <a href={`#/${home.id}`}>
            See it in {home.number} {home.word}
          </a>
        )}
        <Code of={problem} />
      </p>
    </li>
  );
}

/** `requirements.capacity: …` of a pack's first page, by what is asked. */
export function againstWords(said: string): string {
  const id = /^requirements\.([\w.-]+):/.exec(said)?.[1];
  const line = ledger.value.find((one) => one.id === id);
  return byHand(line ? said.replace(/^[^:]+/, line.statement) : said);
}

const figures = (line: Requirement): string =>
  `${shownLedger(line.value, line)}, ${line.at_most ? "at most" : "at least"} ${shownLedger(line.limit, line)} asked`;

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const Code = ({ of }: { of: Problem }) => (
  <span class="quiet">
    {of.where.startsWith("requirements.") && <code>{of.where}</code>} [{of.code}]
  </span>
);
