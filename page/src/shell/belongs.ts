// SPDX-License-Identifier: Apache-2.0
// Which requirement, and which question, belongs to which operation.

/** Whole ids, or beginnings where they end in a point: `clearance.` goes by obstacle. */
const HOME: Record<string, string> = {
  capacity: "measure",
  crank_gap: "measure",
  "clearance.": "measure",
  guard: "measure",
  ground: "measure",
  ground_at_bump: "measure",
  floor_gap: "hold",
  hold_left: "hold",
  hold_right: "hold",
  hold_brake: "hold",
  hold_accelerate: "hold",
  slope_up: "hold",
  slope_down: "hold",
  slope_side: "hold",
  target_left: "hold",
  target_right: "hold",
  target_brake: "hold",
  target_accelerate: "hold",
  "dry_spell.": "drive",
  "inlet.": "drive",
  inlet_hot: "feed",
  inlet_cold: "feed",
  proof_left: "prove",
  proof_right: "prove",
  proof_brake: "prove",
  proof_session: "prove",
  proof_fill: "strip",
  proof_tilt: "strip",
  proof_doors: "strip",
  proof_leak: "strip",
  proof_teardown: "strip",
};

/** The operation of a requirement; one that nobody knows lands in Release, so none is hidden. */
export function operationOf(id: string): string {
  const stem = `${id.split(".", 1)[0]}.`;
  return HOME[id] ?? HOME[stem] ?? "release";
}

/** Found only by letting the oil move: the static verdict does not have these. */
export const inMotion = (id: string): boolean => /^(target_|dry_spell\.|inlet\.)/.test(id);

/** Seen on a bench, in a log or in a teardown. */
export const isSeen = (id: string): boolean => id.startsWith("proof_");

const ASKED_FOR: Record<string, readonly string[]> = {
  numbers: [],
  measure: ["still", "check"],
  shape: ["rail", "shape", "space"],
  hold: ["still", "check", "compartments", "hold"],
  drive: ["check", "drive"],
  feed: ["still", "check", "feed"],
  make: ["housing", "halves", "sheets", "prints", "make"],
  prove: ["plan", "read"],
  strip: ["records", "blank"],
  release: ["release", "history"],
};

export const questionsOf = (operation: string): readonly string[] => ASKED_FOR[operation] ?? [];

const WORDS: Record<string, string> = {
  still: "Verdict, oil at rest",
  check: "Verdict, oil in motion too",
  compartments: "Compartments",
  drive: "Drive",
  hold: "Hold, all round",
  feed: "Feed",
  plan: "Test day",
  read: "Log",
  history: "Revisions",
  release: "Release",
  records: "Records",
  blank: "Form",
  print: "Sheet to print",
  rail: "Bolt pattern",
  shape: "Pan from numbers",
  space: "Free space",
  housing: "Pickup housing",
  halves: "Two halves",
  sheets: "Sheet parts",
  prints: "Prints to try the fit",
  make: "Pack for the shop",
};

/** `Drive: left circle`, `Log: day.csv`. */
export function workWords(question: string, args: Record<string, unknown>): string {
  const word = WORDS[question] ?? question;
  const logs = Array.isArray(args["logs"]) ? args["logs"].join(", ") : undefined;
  const of = args["manoeuvre"] ?? logs ?? args["kind"];
  if (typeof of === "string" && of) return `${word}: ${of}`;
  const printed = args["question"];
  return typeof printed === "string" ? `${word}: ${(WORDS[printed] ?? printed).toLowerCase()}` : word;
}
