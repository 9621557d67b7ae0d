// SPDX-License-Identifier: Apache-2.0
import { signal } from "@preact/signals";

/** The field to open, show and put the cursor in, once the sheet of numbers is there. */
export const goal = signal<string | null>(null);

export function goTo(key: string): void {
  goal.value = key;
  location.hash = "#/numbers";
}
