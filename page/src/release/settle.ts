// SPDX-License-Identifier: Apache-2.0
// What would settle a requirement that is open, and where on the page that is done.

import { OPERATIONS, type Operation } from "../operation";
import type { Problem } from "../protocol";
import { part } from "../prove/Sheet";
import { operationOf } from "../shell/belongs";
import { open } from "../strip/form";

export interface Open {
  id: string;
  /** What is asked, as a sentence */
  statement: string;
  /** `not met` or `not judged` */
  state: "not met" | "not judged";
  found: string;
  do: string;
  operation: Operation;
  /** The form that settles it, where one does */
  form: string | null;
}

const FORMS: Record<string, string> = {
  proof_fill: "fill-test",
  proof_tilt: "tilt-test",
  proof_doors: "door-test",
  proof_leak: "leak-test",
  proof_session: "session",
  proof_teardown: "teardown",
};
const LOGS = ["proof_left", "proof_right", "proof_brake"];

/** Of a refused release: its problems that are requirements. */
export function openOf(problem: Problem): Open | null {
  const id = /^requirements\.(.+)$/.exec(problem.where)?.[1];
  if (!id || problem.code !== "REL-401") return null;
  const state = problem.found.startsWith("not judged") ? "not judged" : "not met";
  const form = FORMS[id] ?? null;
  const home = form ? "strip" : operationOf(id);
  const operation = OPERATIONS.find((o) => o.id === home) ?? OPERATIONS[0]!;
  const found = problem.found.slice(state.length).replace(/^: /, "");
  return { id, statement: problem.needed, state, found, do: problem.do, operation, form };
}

/** What one goes there for. */
export function wordsOf(of: Open): string {
  if (of.form) return `Fill in the ${of.form.replace(/-/g, " ")}`;
  if (LOGS.includes(of.id)) return "Drive it, and read the log";
  return `See ${of.operation.number} ${of.operation.word}`;
}

/** Opens the form or the half of the sheet where it is settled; the link does the rest. */
export function prepare(of: Open): void {
  if (of.form) open.value = of.form;
  if (LOGS.includes(of.id)) part.value = of.state === "not judged" ? "run" : "log";
}

/** By operation, in the order of the work. */
export function byOperation(rows: readonly Open[]): [Operation, Open[]][] {
  return OPERATIONS.map((o): [Operation, Open[]] => [o, rows.filter((r) => r.operation === o)]).filter(
    ([, own]) => own.length > 0,
  );
}
