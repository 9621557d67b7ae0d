// SPDX-License-Identifier: Apache-2.0
// Under the view: from where, what is shown, what is cut away, how far apart.

import { type Signal, useSignal } from "@preact/signals";
import { fromShown, shown, shownNumber, unitName } from "../shown";
import { kindsOf, SINGLE, toggled, WORDS } from "./choice";
import type { Colour } from "./contract";
import type { PanScene } from "./scene_file";
import type { Axis, View3D } from "./view3d";
import { VIEWS } from "./views";

export function Views({ view }: { view: View3D }) {
  return (
    <div class="pan-row" role="group" aria-label="See it from">
      <span class="pan-word">See it from</span>
      {VIEWS.map((v) => (
        <button type="button" class="plain" key={v.id} aria-label={v.says} onClick={() => view.view(v.id)}>
          {v.word}
        </button>
      ))}
    </div>
  );
}

const COLOURS: readonly [Colour, string][] = [
  ["plain", "plain"],
  ["clearance", "by gap"],
  ["compartments", "by compartment"],
];

export function Colours({ colour, scene }: { colour: Signal<Colour>; scene: PanScene }) {
  const several = scene.parts.filter((part) => part.kind === "compartment").length > 1;
  const there = COLOURS.filter(([c]) => c === "plain" || (c === "clearance" ? scene.gap : several));
  if (there.length < 2) return null;
  return (
    <div class="pan-row" role="group" aria-label="Colours">
      <span class="pan-word">Colours</span>
      {there.map(([c, word]) => (
        <button type="button" class="plain" key={c} aria-pressed={colour.value === c} onClick={() => (colour.value = c)}>
          {word}
        </button>
      ))}
    </div>
  );
}

export function ShowList({ scene, hidden }: { scene: PanScene; hidden: Signal<ReadonlySet<string>> }) {
  const box = (name: string, word: string, inner: boolean) => (
    <label class={inner ? "pick inner" : "pick"} key={name}>
      <input
        type="checkbox"
        checked={!hidden.value.has(name)}
        onChange={() => (hidden.value = toggled(hidden.value, name))}
      />
      {word}
    </label>
  );
  return (
    <details class="pan-show">
      <summary>Show and hide</summary>
      <div class="pan-show-list">
        {kindsOf(scene).map((kind) => {
          const single = SINGLE.includes(kind) ? scene.parts.filter((part) => part.kind === kind) : [];
          const inner = !hidden.value.has(kind) && single.length > 1;
          return (
            <div key={kind}>
              {box(kind, WORDS[kind], false)}
              {inner && single.map((part) => box(`${kind}/${part.name}`, part.name, true))}
            </div>
          );
        })}
      </div>
    </details>
  );
}

const CUTS: readonly [Axis, string, string, string][] = [
  ["x", "across", "front", "rear"],
  ["y", "lengthwise", "left", "right"],
  ["z", "level", "top", "bottom"],
];

/** A cut plane that slides through the pan along one of the car's axes. */
export function Cut({ view }: { view: View3D }) {
  const axis = useSignal<Axis | null>(null);
  const at = useSignal(0);
  const beyond = useSignal(true);
  const lay = () => {
    if (axis.value) view.cut(axis.value, at.value, beyond.value);
    else view.cut("x", null);
  };
  const choose = (next: Axis) => {
    axis.value = axis.value === next ? null : next;
    if (axis.value) {
      const [low, high] = view.reach(next);
      at.value = 0.5 * (low + high);
      beyond.value = view.nearSide(next);
    }
    lay();
  };
  const now = CUTS.find(([a]) => a === axis.value);
  const [low, high] = axis.value ? view.reach(axis.value) : [0, 1];
  return (
    <>
      <div class="pan-row" role="group" aria-label="Cut">
        <span class="pan-word">Cut</span>
        {CUTS.map(([a, word]) => (
          <button type="button" class="plain" key={a} aria-pressed={axis.value === a} onClick={() => choose(a)}>
            {word}
          </button>
        ))}
        {now && (
          <button type="button" class="plain" onClick={() => ((beyond.value = !beyond.value), lay())}>
            keep the {beyond.value ? now[2] : now[3]} instead
          </button>
        )}
      </div>
      {axis.value && (
        <label class="pan-row pan-slide">
          <span class="unseen">Where it is cut [{unitName("length")}]</span>
          <input
            type="range"
            min={shownNumber(low, "length")}
            max={shownNumber(high, "length")}
            step="any"
            value={shownNumber(at.value, "length")}
            onInput={(event) => {
              at.value = fromShown(Number(event.currentTarget.value), "length");
              lay();
            }}
          />
          <output class="num">{shown(at.value - low, "length")}</output>
        </label>
      )}
    </>
  );
}
