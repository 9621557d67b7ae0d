// SPDX-License-Identifier: Apache-2.0
// What is written over the picture: the tape, what lies under the pointer, the compartments' letters.

import type { ReadonlySignal } from "@preact/signals";
import { shown } from "../shown";
import { WORDS } from "./choice";
import { boxOf, middleLeft } from "./letter";
import type { Met, Tape } from "./pick";
import type { PanScene } from "./scene_file";
import type { Seen } from "./view3d";

export interface Pointed {
  met: Met;
  x: number;
  y: number;
}

/** The tape between two points; its length is also in words under the view. */
export function TapeLine({ seen, tape }: { seen: ReadonlySignal<Seen | null>; tape: ReadonlySignal<{ tape: Tape }> }) {
  const ends = tape.value.tape.ends;
  const at = seen.value ? ends.map((end) => seen.value?.of(end) ?? null) : [];
  const [a, b] = at;
  if (!a) return null;
  return (
    <svg class="pan-tape" aria-hidden="true">
      {b && <line class="under" x1={a.x} y1={a.y} x2={b.x} y2={b.y} />}
      {b && <line x1={a.x} y1={a.y} x2={b.x} y2={b.y} />}
      {at.map((p, k) => p && <circle key={k} cx={p.x} cy={p.y} r="6" />)}
      {b && (
        <text x={0.5 * (a.x + b.x)} y={0.5 * (a.y + b.y) - 12}>
          {shown(tape.value.tape.length, "length")}
        </text>
      )}
    </svg>
  );
}

/** `118.0 mm: 40.0 mm forward, 12.0 mm left, 3.0 mm down` */
export function tapeWords(tape: Tape): string {
  const way = tape.way;
  if (!way) return tape.ends.length ? "Now the second point." : "Touch two points of the picture.";
  const said = (value: number, there: string, back: string) => `${shown(Math.abs(value), "length")} ${value >= 0 ? there : back}`;
  const words = [said(way.x, "forward", "rearward"), said(way.y, "left", "right"), said(way.z, "up", "down")];
  return `${shown(tape.length, "length")}: ${words.join(", ")}.`;
}

export function Tip({ pointed, ground }: { pointed: ReadonlySignal<Pointed | null>; ground: boolean }) {
  const now = pointed.value;
  if (!now) return null;
  const { shown: part, gap, needed, at } = now.met;
  const needs = needed === null ? "" : ` (asked for ${shown(needed, "length")})`;
  const place = (element: HTMLElement | null) => {
    if (!element) return;
    const wide = element.parentElement?.clientWidth ?? 0;
    element.style.left = `${Math.min(now.x + 14, Math.max(0, wide - element.offsetWidth - 6))}px`;
    const high = element.parentElement?.clientHeight ?? 0;
    const under = now.y + 16 + element.offsetHeight < high;
    element.style.top = `${under ? now.y + 16 : Math.max(0, now.y - 12 - element.offsetHeight)}px`;
  };
  return (
    <div class="pan-tip" ref={place}>
      <strong>{part.kind === "compartment" ? `Oil in compartment ${part.name}` : WORDS[part.kind] === part.name ? part.name : `${part.name} · ${WORDS[part.kind].toLowerCase()}`}</strong>
      {gap !== null && (
        <span>
          {shown(gap, "length")} to the nearest obstacle{needs}
        </span>
      )}
      {ground && <span>{shown(at.z, "length")} over the ground</span>}
    </div>
  );
}

/** A letter over each compartment, as far as it is not cut away. */
export function Letters({ seen, scene }: { seen: ReadonlySignal<Seen | null>; scene: PanScene }) {
  const look = seen.value;
  if (!look) return null;
  return (
    <svg class="pan-letters" aria-hidden="true">
      {scene.parts.map((part) => {
        if (part.kind !== "compartment") return null;
        const middle = middleLeft(boxOf(part.points, scene.pose), look.cut);
        const at = middle && look.of(middle);
        return (
          at && (
            <g key={part.name}>
              <circle cx={at.x} cy={at.y} r="13" />
              <text x={at.x} y={at.y + 6}>
                {part.name}
              </text>
            </g>
          )
        );
      })}
    </svg>
  );
}
