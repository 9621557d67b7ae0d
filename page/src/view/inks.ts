// SPDX-License-Identifier: Apache-2.0
// The page's colours, for the parts of a picture that no style sheet reaches.

import { Color } from "three";

const NAMES = [
  "ink", "muted", "rule", "edge", "paper", "faint", "oil", "oil-line", "new", "stock", "steel", "obstacle", "free", "free-line",
  "hazard", "hazard-ink", "air", "gap-1", "gap-2", "gap-3", "gap-4", "gap-5",
  "tint-1", "tint-2", "tint-3", "tint-4", "tint-5", "tint-6", "tint-7", "tint-8",
] as const;

export type Ink = (typeof NAMES)[number];
export type Inks = Record<Ink, Color>;

export function inks(): Inks {
  const style = getComputedStyle(document.documentElement);
  const found = {} as Inks;
  for (const name of NAMES) found[name] = new Color(style.getPropertyValue(`--${name}`).trim() || "#888888");
  return found;
}

/** Calls back when the person or the machine changes between light and dark. */
export function onInksChanged(changed: () => void): () => void {
  const media = matchMedia("(prefers-color-scheme: dark)");
  const watch = new MutationObserver(changed);
  watch.observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });
  media.addEventListener("change", changed);
  return () => {
    watch.disconnect();
    media.removeEventListener("change", changed);
  };
}
