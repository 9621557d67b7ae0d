// SPDX-License-Identifier: Apache-2.0
// Whole parts of the job file: an entry or a section put in, or taken out.

import { posted, Refused, WINDOW } from "../api";
import type { Problem } from "../protocol";
import { announce } from "../shell/announce";
import { undoSaid } from "../shell/undo";
import type { Within } from "./form";

export interface Trouble {
  said: string;
  problems: Problem[];
}

interface Done {
  says: string;
}

async function change(path: string, body: Record<string, unknown>): Promise<Trouble | null> {
  try {
    const done = await posted<Done>(path, { ...body, window: WINDOW });
    undoSaid.value = done.says;
    announce(done.says);
    return null;
  } catch (error) {
    if (!(error instanceof Refused)) return { said: "The server did not answer; nothing was changed.", problems: [] };
    return { said: error.problems.length ? "" : error.message, problems: error.problems };
  }
}

/** One more entry, or a section; without `values` an example to change. */
export const addPart = (key: string, values: Record<string, string> | string | null): Promise<Trouble | null> =>
  change("/api/add", { key, values });

/** `seen` is the server's print of what this window saw there, `within` of the list about it. */
export const takePart = (key: string, seen: string | null, within: Within | null = null): Promise<Trouble | null> =>
  change("/api/take", { key, seen, within });
