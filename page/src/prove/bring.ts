// SPDX-License-Identifier: Apache-2.0
// A log that comes in by drop or choice; where a column's unit or name must be said, it is asked for.

import { signal } from "@preact/signals";
import { Refused, uploaded, WINDOW } from "../api";
import type { Problem } from "../protocol";
import { channel, choose, listLogs, unit } from "./reading";

export interface Question {
  /** `channel` or `unit` */
  asks: "channel" | "unit";
  role: string;
  where: string;
  found: string;
  needed: string;
  /** What it may be, where that is a list */
  choices: string[];
}

export interface Arriving {
  file: File;
  state: "on its way" | "asks" | "refused";
  problems: Problem[];
  questions: Question[];
  said: string;
}

export const arriving = signal<Arriving | null>(null);

/** `say it: --unit pressure=UNIT`, of LOG-210 to LOG-213: what a person can answer. */
function questionOf(problem: Problem): Question | null {
  const found = /--(channel|unit) (\w+)=(?:NAME|UNIT)/.exec(problem.do);
  if (!found || !/^LOG-21[0-3]$/.test(problem.code)) return null;
  const asks = found[1] as Question["asks"];
  const listed = asks === "unit" ? problem.needed.split(/: |one of /)[1] : problem.found.replace(/^columns /, "");
  const choices = (listed ?? "").split(", ").filter((c) => c && c !== "...");
  return { asks, role: found[2]!, where: problem.where, found: problem.found, needed: problem.needed, choices };
}

export type Answers = Readonly<Record<"channel" | "unit", Record<string, string>>>;
const NONE: Answers = { channel: {}, unit: {} };

function queryOf(file: File, answers: Answers): URLSearchParams {
  const query = new URLSearchParams({ as: "log", name: file.name, window: WINDOW });
  for (const asks of ["channel", "unit"] as const) {
    for (const [role, text] of Object.entries(answers[asks])) query.append(asks, `${role}=${text}`);
  }
  return query;
}

/** Brings a log into tests/ and looks at it. */
export async function bringLog(file: File, answers: Answers = NONE): Promise<void> {
  const fresh = { file, problems: [], questions: [], said: "" };
  arriving.value = { ...fresh, state: "on its way" };
  try {
    const came = await uploaded<{ name: string }>(queryOf(file, answers), file);
    arriving.value = null;
    await listLogs();
    choose(came.name);
    channel.value = answers.channel;
    unit.value = answers.unit;
  } catch (error) {
    const refused = error instanceof Refused ? error : null;
    const problems = refused?.problems ?? [];
    const questions = problems.map(questionOf).filter((q) => q !== null);
    const asks = problems.length > 0 && questions.length === problems.length;
    const lost = "the line to the server was lost; drop it again";
    const said = refused ? (problems.length ? "" : refused.message) : lost;
    arriving.value = { ...fresh, state: asks ? "asks" : "refused", problems, questions, said };
  }
}
