// SPDX-License-Identifier: Apache-2.0
// The last change to the job file taken back, or made again, in this window's name.

import { signal } from "@preact/signals";
import { posted, Refused, WINDOW } from "../api";
import { form } from "../numbers/form";
import { job } from "../state";
import { announce } from "./announce";

interface Undone {
  says: string;
}

/** What the last undo came to, in words; empty where there is nothing to say. */
export const undoSaid = signal("");

/** A step that cannot be taken, as the same was changed since; it can be passed over. */
const blocked = signal<{ way: Way; id: string } | null>(null);

type Way = "undo" | "redo";

/** With `past`, the step of that id is left as it is and the one before it is taken. */
export async function goBack(way: Way, past: string | null = null): Promise<void> {
  blocked.value = null;
  try {
    const done = await posted<Undone>(`/api/${way}`, { window: WINDOW, past });
    undoSaid.value = `${way === "undo" ? "Undone" : "Done again"}: ${done.says}`;
  } catch (error) {
    const refused = error instanceof Refused ? error : null;
    undoSaid.value = refused?.message ?? "The server did not answer; nothing was changed.";
    const id = refused?.body["id"];
    if (typeof id === "string" && id) blocked.value = { way, id };
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

/** What it would take back, and whether that was someone else's. */
function aheadOf(way: Way): string | undefined {
  const next = form.value?.[way];
  if (!next) return undefined;
  return next.window === WINDOW ? next.says : `${next.says} (done in another window)`;
}

function Key({ way, word, can }: { way: Way; word: string; can: boolean | undefined }) {
  return (
    <button disabled={!can} title={aheadOf(way)} onClick={() => void goBack(way)}>
      {word}
    </button>
  );
}

export function UndoButtons() {
  const head = job.value;
  return (
    <div class="undo">
      <Key way="undo" word="Undo" can={head?.can_undo} />
      <Key way="redo" word="Redo" can={head?.can_redo} />
      {undoSaid.value && <span class="undo-said">{undoSaid.value}</span>}
      {blocked.value && (
        <button onClick={() => void goBack(blocked.value!.way, blocked.value!.id)}>Pass it over</button>
      )}
    </div>
  );
}
