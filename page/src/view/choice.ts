// SPDX-License-Identifier: Apache-2.0
// What of the pan is shown at first, and what its parts are called.

import type { Colour, Kind } from "./contract";
import type { PanScene } from "./scene_file";

export const WORDS: Record<Kind, string> = {
  outside: "Pan, outside",
  cavity: "Pan, inside",
  compartment: "Oil",
  panel: "Baffles",
  door: "Doors",
  pickup: "Pickup's mouth",
  solid: "Housing and tube",
  obstacle: "Obstacles",
  space: "Free space",
  crank: "Crank sweep",
  stock: "Stock pan",
  "stock-pickup": "Stock pickup's mouth",
  dipstick: "Dipstick",
  ground: "Ground",
};

/** In the order of the list. */
export const KINDS = Object.keys(WORDS) as Kind[];

const USUAL: readonly Kind[] = ["outside", "compartment", "panel", "door", "pickup", "solid"];
const CLEAR: readonly Kind[] = ["outside", "obstacle", "ground"];

/** Kinds of which single parts can be hidden. */
export const SINGLE: readonly Kind[] = ["obstacle", "panel"];

export function kindsOf(scene: PanScene): Kind[] {
  const there = new Set<Kind>(scene.parts.map((part) => part.kind));
  if (scene.ground) there.add("ground");
  return KINDS.filter((kind) => there.has(kind));
}

/** What was hidden stays so when the pan is drawn anew; what has come since is shown or not as at first. */
export function hiddenAgain(had: readonly Kind[], now: readonly Kind[], before: ReadonlySet<string>, atFirst: ReadonlySet<string>): Set<string> {
  const come = now.filter((kind) => !had.includes(kind));
  return new Set([...[...before].filter((name) => !come.includes(name as Kind)), ...come.filter((kind) => atFirst.has(kind))]);
}

export function hiddenAtFirst(scene: PanScene, colour: Colour, show?: readonly Kind[]): Set<string> {
  const kinds = kindsOf(scene);
  const wanted = new Set<Kind>(show ?? (colour === "clearance" ? CLEAR : USUAL));
  if (!show && !kinds.includes("outside")) wanted.add("cavity");
  return new Set(kinds.filter((kind) => !wanted.has(kind)));
}

/** With one name shown or hidden. */
export function toggled(hidden: ReadonlySet<string>, name: string): Set<string> {
  const next = new Set(hidden);
  if (!next.delete(name)) next.add(name);
  return next;
}
