// SPDX-License-Identifier: Apache-2.0
// What is typed but not yet in the file, and how it gets there without losing anyone's work.

import { batch, signal } from "@preact/signals";
import { posted, Refused, WINDOW } from "../api";
import type { Problem } from "../protocol";
import { announce } from "../shell/announce";
import { goBack } from "../shell/undo";
import { fieldsByKey, movedOn, noteWritten, reloadForm, type Within } from "./form";
import { watchVerdict } from "./moved";

export interface Draft {
  text: string;
  /** What stood there when the typing began: only that may be written over */
  before: string | null;
  /** The unnamed entry that it stands in, as it was then */
  within: Within | null;
  saving?: boolean;
  problems?: Problem[];
  said?: string;
  /** What someone else put here meanwhile; null: took it out */
  theirs?: { text: string | null; within: Within | null };
}

/** By key; one that is not here is as it stands in the file. */
export const drafts = signal<ReadonlyMap<string, Draft>>(new Map());
/** The key that this window last wrote. */
export const written = signal<string | null>(null);

export function put(key: string, draft: Draft | null): void {
  const next = new Map(drafts.value);
  if (draft) next.set(key, draft);
  else next.delete(key);
  drafts.value = next;
}

type Seen = Pick<Draft, "before" | "within">;

/** What this window saw at `key`, when the typing began or now. */
function seenAt(key: string): Seen {
  const field = fieldsByKey.value.get(key);
  const { before, within } = drafts.value.get(key) ?? { before: field?.typed ?? null, within: field?.within ?? null };
  return { before, within };
}

/** Letters typed, not yet sent. */
export function typed(key: string, text: string): void {
  put(key, { text, ...seenAt(key) });
}

interface Done {
  typed: string | null;
  within: Within | null;
}

/** Write `text` at `key`; empty takes it out. True where it is in the file. */
export async function save(key: string, text: string | null, seen: Seen = seenAt(key)): Promise<boolean> {
  const value = text?.trim() || null;
  const draft = { text: text ?? "", ...seen };
  if (value === seen.before) {
    put(key, null);
    return true;
  }
  put(key, { ...draft, saving: true });
  watchVerdict(key);
  try {
    const done = await posted<Done>("/api/set", { key, value, ...seen, window: WINDOW });
    batch(() => {
      const both = { was: seen.within, is: done.within };
      noteWritten({ key, typed: value === null ? null : (done.typed ?? value), ...both });
      put(key, null);
      for (const [other, open] of drafts.value) put(other, { ...open, within: movedOn(open.within, both) });
      written.value = key;
    });
    return true;
  } catch (error) {
    put(key, { ...draft, ...refusal(error) });
    return false;
  }
}

interface Theirs {
  theirs: string | null;
  within?: Within;
}

function refusal(error: unknown): Partial<Draft> {
  if (!(error instanceof Refused)) return { said: "The server did not answer; this is not in the file yet." };
  const conflict = error.body["conflict"] as Theirs | undefined;
  if (conflict) {
    announce("Someone else has changed this one meanwhile; choose which stays.");
    return { theirs: { text: conflict.theirs, within: conflict.within ?? null } };
  }
  if (error.problems.length) return { problems: error.problems };
  return { said: error.message };
}

/** Of two texts in one place, ours stays. */
export async function keepMine(key: string): Promise<void> {
  const draft = drafts.value.get(key);
  if (draft?.theirs) await save(key, draft.text, { before: draft.theirs.text, within: draft.theirs.within });
}

export function keepTheirs(key: string): void {
  put(key, null);
  void reloadForm();
}

export const undoLast = (): Promise<void> => goBack("undo");
