// SPDX-License-Identifier: Apache-2.0
// What the colours mean, in the person's unit.

import { shown } from "../shown";
import type { Colour } from "./contract";
import type { PanScene } from "./scene_file";

export function GapLegend({ gap }: { gap: NonNullable<PanScene["gap"]> }) {
  const edges = gap.steps.map((step) => shown(step, "length"));
  const words = [`under ${edges[0]}`, ...edges.slice(1).map((edge, k) => `${edges[k]} to ${edge}`), `over ${edges[edges.length - 1]}`];
  return (
    <div class="pan-legend">
      <p>
        Gap from the pan's skin to the nearest obstacle, {gap.says}.
      </p>
      <ul>
        {gap.asked && (
          <li>
            <span class="swatch hazard" aria-hidden="true" />
            closer than asked for
          </li>
        )}
        {words.map((word, k) => (
          <li key={word}>
            <span class={`swatch gap-${k + 1}`} aria-hidden="true" />
            {word}
          </li>
        ))}
      </ul>
    </div>
  );
}

export function CompartmentLegend({ scene }: { scene: PanScene }) {
  const parts = scene.parts.filter((part) => part.kind === "compartment");
  return (
    <div class="pan-legend">
      <ul>
        {parts.map((part, k) => (
          <li key={part.name}>
            <span class={`swatch tint-${(k % 8) + 1}`} aria-hidden="true">
              {part.name}
            </span>
            <span>
              <span class="unseen">{part.name}: </span>
              {part.where || "compartment"}
              {part.pickup && ", the pickup's"}
            </span>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** What is free, and what it is free of. */
export function SpaceLegend({ scene, colour }: { scene: PanScene; colour: Colour }) {
  const space = scene.parts.find((part) => part.kind === "space");
  if (!space) return null;
  const others = colour === "plain" ? ([["outside", "the pan as it is"], ["obstacle", "obstacles, at rest"]] as const) : [];
  return (
    <div class="pan-legend">
      <ul>
        <li>
          <span class={colour === "clearance" ? "swatch free lined" : "swatch free"} aria-hidden="true" />
          free space{space.lines !== null && `, a line every ${shown(space.lines, "length")} of depth`}
        </li>
        {others.map(
          ([kind, words]) =>
            scene.parts.some((part) => part.kind === kind) && (
              <li key={kind}>
                <span class={`swatch ${kind}`} aria-hidden="true" />
                {words}
              </li>
            ),
        )}
      </ul>
    </div>
  );
}
