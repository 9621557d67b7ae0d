// SPDX-License-Identifier: Apache-2.0
// What came of typing a value that is not in the file yet: refused, not answered, or somebody else's.

import { ProblemText } from "../shell/Problems";
import { drafts, keepMine, keepTheirs, put, save, type Draft } from "./draft";
import type { Field } from "./form";

function Conflict({ of, draft }: { of: Field; draft: Draft }) {
  const theirs = draft.theirs?.text;
  const what = theirs === draft.before ? "the entry that this one is in" : "this one";
  return (
    <div class="note conflict" role="alert">
      <p>Someone else has changed {what} since you saw it. Which stays?</p>
      <p class="tools">
        <button onClick={() => keepTheirs(of.key)}>Theirs: {theirs ?? "nothing"}</button>
        <button onClick={() => void keepMine(of.key)}>Mine: {draft.text || "nothing"}</button>
      </p>
    </div>
  );
}

/** Why what was typed is not in the file, and the ways on from there. */
export function Trouble({ of }: { of: Field }) {
  const draft = drafts.value.get(of.key);
  if (draft?.theirs) return <Conflict of={of} draft={draft} />;
  const problems = draft ? draft.problems : of.problem ? [of.problem] : [];
  return (
    <>
      {problems?.map((problem) => <ProblemText key={problem.where} problem={problem} />)}
      {draft?.said && (
        <p class="problem" role="alert">
          {draft.said} <button onClick={() => void save(of.key, draft.text)}>Try again</button>
        </p>
      )}
      {draft?.problems && (
        <p class="field-after">
          Not in the file; there stands {of.typed ? <b>{of.typed}</b> : "nothing"}.{" "}
          <button class="plain" onClick={() => put(of.key, null)}>
            Back to that
          </button>
        </p>
      )}
    </>
  );
}
