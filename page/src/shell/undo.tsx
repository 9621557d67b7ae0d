// SPDX-License-Identifier: Apache-2.0
// The last change to the job file taken back, or made again, in this window's name.

import { signal } from "@preact/signals";
import { posted, Refused, WINDOW } from "../api";
import { job } from "../state";
import { announce } from "./announce";

interface Undone {
  key: string;
  typed: string | null;
}

/** What the last undo came to, in words; empty where there is nothing to say. */
export const undoSaid = signal("");

export async function goBack(way: "undo" | "redo"): Promise<void> {
  try {
    const done = await posted<Undone>(`/api/${way}`, { window: WINDOW });
    undoSaid.value = done.typed === null ? `${done.key}: taken out` : `${done.key}: ${done.typed}`;
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    undoSaid.value = error.message;
  }
  announce(undoSaid.value);
}

const typing = (target: EventTarget | null): boolean =>
  target instanceof Element && target.closest("input, textarea, select, [contenteditable]") !== null;

addEventListener("keydown", (event) => {
  const plain = (event.ctrlKey || event.metaKey) && !event.altKey && event.key.toLowerCase() === "z";
  if (!plain || typing(event.target) || !job.value) return; // a field undoes its own letters
  event.preventDefault();
  void goBack(event.shiftKey ? "redo" : "undo");
});

export function UndoButtons() {
  const head = job.value;
  return (
    <div class="undo">
      <button disabled={!head?.can_undo} onClick={() => void goBack("undo")}>
        Undo
      </button>
      <button disabled={!head?.can_redo} onClick={() => void goBack("redo")}>
        Redo
      </button>
      {undoSaid.value && <span class="undo-said">{undoSaid.value}</span>}
    </div>
  );
}
