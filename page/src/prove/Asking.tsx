// SPDX-License-Identifier: Apache-2.0
// A question with its key, where it is while it runs, and what kept it from being answered.

import { useEffect, useState } from "preact/hooks";
import type { ComponentChildren } from "preact";
import { Refused, stopWork } from "../api";
import type { Problem, Work } from "../protocol";
import { ProblemText } from "../shell/Problems";
import { ask, workOn } from "../state";

type Args = Record<string, unknown>;

export const isBusy = (work: Work | null): boolean =>
  work?.state === "running" || work?.state === "waiting";

/** Where a work is, with a key that stops it. */
export function Going({ work, words }: { work: Work; words: string }) {
  const said = work.state === "waiting" ? "waits its turn" : work.text || "begins";
  const part = Math.round(100 * work.share);
  return (
    <div class="going">
      <p>
        <b>{words}</b> <span class="quiet">{said}</span>
      </p>
      <progress max={100} value={part} aria-label={words} />
      <button onClick={() => void stopWork(work.id).catch(() => undefined)}>Stop it</button>
    </div>
  );
}

/** What a refusal or a failed work says, each problem in the words of the commands. */
export function Said({ problems, error }: { problems: readonly Problem[]; error?: string | null }) {
  return (
    <>
      {error && (
        <p class="problem" role="alert">
          {error}
        </p>
      )}
      {problems.map((p) => (
        <ProblemText key={p.code + p.where} problem={p} />
      ))}
    </>
  );
}

interface AskingProps {
  question: string;
  args?: Args;
  /** On the key */
  words: string;
  /** What runs, such as `Laying out the test day` */
  doing: string;
  /** Once it was answered */
  again?: string;
  main?: boolean;
  /** Of a problem that is said beside its field */
  elsewhere?: (problem: Problem) => boolean;
  children?: ComponentChildren;
}

/** One row: a key to ask with, or where the work is; under it what kept it from being done. */
export function Asking({ question, args = {}, words, doing, again, main, elsewhere, children }: AskingProps) {
  const [refused, setRefused] = useState<Refused | null>(null);
  const work = workOn(question, args);
  const go = async () => setRefused(await ask(question, args));
  const here = (problems: readonly Problem[]) => problems.filter((p) => !elsewhere?.(p));
  if (work && isBusy(work)) return <Going work={work} words={doing} />;
  return (
    <>
      <p class="tools">
        <button class={main ? "main" : ""} onClick={() => void go()}>
          {work?.state === "done" && again ? again : words}
        </button>
        {children}
      </p>
      {work?.state === "stopped" && <p class="note">Stopped. What was finished is kept.</p>}
      {work?.state === "failed" && <Said problems={here(work.problems)} error={work.error} />}
      {refused && <Said problems={refused.problems} error={refused.problems.length ? null : refused.message} />}
    </>
  );
}

/** Asks by itself where nothing was asked for the job as it is now. */
export function useAsked(question: string, args: Args, hash: string | null | undefined): void {
  useEffect(() => {
    if (!hash) return;
    const work = workOn(question, args);
    if (!work || work.input_hash !== hash) void ask(question, args);
  }, [question, hash]);
}
