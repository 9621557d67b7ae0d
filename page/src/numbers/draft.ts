// SPDX-License-Identifier: Apache-2.0
// What is typed but not yet in the file, and how it gets there without losing anyone's work.

import { batch, signal } from "@preact/signals";
import { posted, Refused, WINDOW } from "../api";
import type { Problem } from "../protocol";
import { announce } from "../shell/announce";
import { goBack } from "../shell/undo";
import { fieldsByKey, noteWritten, reloadForm } from "./form";
import { watchVerdict } from "./moved";

export interface Draft {
  text: string;
  /** What stood there when the typing began: only that may be written over */
  before: string | null;
  saving?: boolean;
  problems?: Problem[];
  said?: string;
  /** What someone else put here meanwhile; null: took it out */
  theirs?: { text: string | null };
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

const typedNow = (key: string): string | null => fieldsByKey.value.get(key)?.typed ?? null;

/** Letters typed, not yet sent. */
export function typed(key: string, text: string): void {
  const began = drafts.value.get(key);
  put(key, { text, before: began ? began.before : typedNow(key) });
}

const seenAt = (key: string): string | null => {
  const began = drafts.value.get(key);
  return began ? began.before : typedNow(key);
};

/** Write `text` at `key`; empty takes it out. True where it is in the file. */
export async function save(key: string, text: string | null, before = seenAt(key)): Promise<boolean> {
  const value = text?.trim() || null;
  const draft = { text: text ?? "", before };
  if (value === before) {
    put(key, null);
    return true;
  }
  put(key, { ...draft, saving: true });
  watchVerdict(key);
  try {
    const done = await posted<{ typed: string | null }>("/api/set", { key, value, before, window: WINDOW });
    batch(() => {
      noteWritten(key, value === null ? null : (done.typed ?? value));
      put(key, null);
      written.value = key;
    });
    return true;
  } catch (error) {
    put(key, { ...draft, ...refusal(error) });
    return false;
  }
}

function refusal(error: unknown): Partial<Draft> {
  if (!(error instanceof Refused)) return { said: "The server did not answer; this is not in the file yet." };
  const conflict = error.body["conflict"] as { theirs: string | null } | undefined;
  if (conflict) {
    announce("Someone else has changed this one meanwhile; choose which stays.");
    return { theirs: { text: conflict.theirs } };
  }
  if (error.problems.length) return { problems: error.problems };
  return { said: error.message };
}

/** Of two texts in one place, ours stays. */
export async function keepMine(key: string): Promise<void> {
  const draft = drafts.value.get(key);
  if (draft?.theirs) await save(key, draft.text, draft.theirs.text);
}

export function keepTheirs(key: string): void {
  put(key, null);
  void reloadForm();
}

export const undoLast = (): Promise<void> => goBack("undo");
