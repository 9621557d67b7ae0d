// SPDX-License-Identifier: Apache-2.0
// A canvas takes no CSS variables: their values are read here, and read anew when they change.

import { signal } from "@preact/signals";

/** Counts the changes of the theme; a drawing that reads it is drawn anew. */
export const theme = signal(0);

let styles: CSSStyleDeclaration | null = null;
const known = new Map<string, string>();

/** The colour in a variable of style.css, such as `--ink`. */
export function ink(name: string): string {
  let value = known.get(name);
  if (value === undefined) {
    styles ??= getComputedStyle(document.documentElement);
    value = styles.getPropertyValue(name).trim() || "#808080";
    known.set(name, value);
  }
  return value;
}

/** Type of the page at `share` of its size, in pixels of CSS. */
export function rem(share: number): number {
  styles ??= getComputedStyle(document.documentElement);
  return share * parseFloat(styles.fontSize || "18");
}

export const font = (share: number, weight = 400): string =>
  `${weight} ${rem(share)}px ${getComputedStyle(document.body).fontFamily || "sans-serif"}`;

function changed(): void {
  known.clear();
  styles = null;
  theme.value += 1;
}

let onScreen: string | null = null;

/** Paper is light whatever the screen is: a canvas goes to the printer as it stands. */
function paper(is: boolean): void {
  const root = document.documentElement;
  if (is) onScreen = root.getAttribute("data-theme");
  const to = is ? "light" : onScreen;
  if (to === null) root.removeAttribute("data-theme");
  else root.setAttribute("data-theme", to);
  changed();
}

if (typeof document !== "undefined") {
  const watched = { attributes: true, attributeFilter: ["data-theme", "class", "style"] };
  new MutationObserver(changed).observe(document.documentElement, watched);
  for (const asked of ["(prefers-color-scheme: dark)", "(prefers-contrast: more)"]) {
    matchMedia(asked).addEventListener("change", changed);
  }
  addEventListener("beforeprint", () => paper(true));
  addEventListener("afterprint", () => paper(false));
}

/** Colour, dash and width of a line. */
export interface Look {
  ink: string;
  dash: number[];
  width: number;
}

const DASHES = [[], [9, 4], [3, 3], [12, 4, 3, 4], [], [9, 4], [3, 3], [12, 4, 3, 4]];

/** The n-th of several lines, from 1: a hue, a lightness and a dash of its own. */
export function lookOf(look: number | Partial<Look> | undefined, place: number): Look {
  if (typeof look === "object") return { ink: "--line-1", dash: [], width: 2.5, ...look };
  const k = ((look ?? place + 1) - 1) % 8;
  return { ink: `--line-${k + 1}`, dash: DASHES[k]!, width: 2.5 };
}
