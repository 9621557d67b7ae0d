// SPDX-License-Identifier: Apache-2.0
// The pan in 3D with its oil. Other sheets give it signals; it draws when one of them changes.

import { type Signal, useSignal, useSignalEffect } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { hiddenAgain, hiddenAtFirst, kindsOf } from "./choice";
import { Compass } from "./Compass";
import type { Colour, PanViewProps } from "./contract";
import { CompartmentLegend, GapLegend, SpaceLegend } from "./Legend";
import { Letters, type Pointed, TapeLine, tapeWords, Tip } from "./Overlay";
import type { Tape } from "./pick";
import type { PanScene } from "./scene_file";
import { Stills } from "./Stills";
import { Colours, Cut, ShowList, Views } from "./Tools";
import { useScene, waitWords } from "./use_scene";
import type { Seen, View3D } from "./view3d";
import "./view.css";

const KEYS = "Arrow keys turn it, shift and arrows move it, plus and minus zoom.";

/** Signals that the view writes and the words around it read. */
interface Around {
  seen: Signal<Seen | null>;
  pointed: Signal<Pointed | null>;
  tape: Signal<{ tape: Tape }>;
  lost: Signal<boolean>;
}

/** A View3D in an element, once its code is there; null until then, false where it cannot be. */
function useView(around: Around) {
  const place = useRef<HTMLDivElement>(null);
  const view = useSignal<View3D | null | false>(null);
  useEffect(() => {
    let made: View3D | null = null;
    let wanted = true;
    void import("./view3d").then(({ View3D }) => {
      if (!wanted || !place.current) return;
      try {
        made = new View3D(place.current, {
          drawn: (seen) => (around.seen.value = seen),
          lost: (is) => (around.lost.value = is),
          met: (met, x, y) => (around.pointed.value = met && { met, x, y }),
          measured: (tape) => (around.tape.value = { tape }),
        });
        view.value = made;
      } catch {
        view.value = false;
      }
    });
    return () => {
      wanted = false;
      made?.dispose();
    };
  }, []);
  return { place, view };
}

/** Whatever changes, the view is told of that alone. */
function useTelling(
  view: Signal<View3D | null | false>,
  scene: () => PanScene | null,
  hidden: Signal<ReadonlySet<string>>,
  colour: Signal<Colour>,
  { oil, doors, show }: PanViewProps,
): void {
  const drawn = useSignal<PanScene | null>(null);
  useSignalEffect(() => {
    const now = scene();
    if (!view.value || !now) return;
    view.value.show(now, colour.peek());
    const [had, first] = [drawn.peek(), hiddenAtFirst(now, colour.peek(), show)];
    hidden.value = had ? hiddenAgain(kindsOf(had), kindsOf(now), hidden.peek(), first) : first;
    drawn.value = now;
  });
  useSignalEffect(() => {
    if (view.value && drawn.value) view.value.oil(oil?.value ?? null);
  });
  useSignalEffect(() => {
    if (view.value && drawn.value && doors) view.value.doors(doors.value);
  });
  useSignalEffect(() => {
    if (view.value && drawn.value) view.value.hide(hidden.value);
  });
  useSignalEffect(() => {
    if (view.value && drawn.value) view.value.paint(colour.value);
  });
  useSignalEffect(() => {
    if (colour.value !== "clearance") return;
    const names = new Set(hidden.peek());
    if (names.delete("obstacle") || names.delete("outside")) hidden.value = names;
  });
}

export function PanView(props: PanViewProps) {
  const around: Around = {
    seen: useSignal<Seen | null>(null),
    pointed: useSignal<Pointed | null>(null),
    tape: useSignal<{ tape: Tape }>({ tape: { ends: [] } as unknown as Tape }),
    lost: useSignal(false),
  };
  const { place, view } = useView(around);
  const state = useScene(props.of, props.more);
  const hidden = useSignal<ReadonlySet<string>>(new Set());
  const colour = useSignal<Colour>(props.colour ?? "plain");
  const measuring = useSignal(false);
  useTelling(view, () => state.value.scene, hidden, colour, props);
  useSignalEffect(() => {
    if (view.value) view.value.measure(measuring.value);
  });
  if (view.value === false) return <Stills />;
  const { scene, problem } = state.value;
  const is = view.value;
  const key = (event: KeyboardEvent) => {
    if (is && event.key === "Enter" && measuring.value) is.mark();
    else if (is) is.key(event);
  };
  return (
    <figure class="pan-view">
      <div
        class={measuring.value ? "pan-stage measuring" : "pan-stage"}
        ref={place}
        tabIndex={0}
        role="application"
        aria-label={`${props.label ?? "The pan in 3D"}. ${KEYS}`}
        onKeyDown={key}
      >
        {scene && colour.value === "compartments" && <Letters seen={around.seen} scene={scene} />}
        <TapeLine seen={around.seen} tape={around.tape} />
        {measuring.value && <span class="pan-cross" aria-hidden="true" />}
        <Compass seen={around.seen} />
        {!measuring.value && <Tip pointed={around.pointed} ground={scene?.ground ?? false} />}
        {!scene && !problem && <p class="pan-say">{waitWords("Drawing the pan…")}</p>}
        {around.lost.value && <p class="pan-say">The graphics were restarted; the picture comes back by itself.</p>}
      </div>
      {problem && (
        <p class="problem" role="alert">
          The pan cannot be drawn as it is now: {problem}
        </p>
      )}
      {is && scene && (
        <figcaption class="pan-tools on-screen">
          {colour.value === "clearance" && scene.gap && <GapLegend gap={scene.gap} />}
          {colour.value === "compartments" && <CompartmentLegend scene={scene} />}
          <SpaceLegend scene={scene} colour={colour.value} />
          <Views view={is} />
          <Cut view={is} />
          <Colours colour={colour} scene={scene} />
          <div class="pan-row">
            <button type="button" class="plain" aria-pressed={measuring.value} onClick={() => (measuring.value = !measuring.value)}>
              Measure between two points
            </button>
            <button type="button" class="plain" onClick={() => is.zoom(1 / 1.25)} aria-label="Nearer">
              +
            </button>
            <button type="button" class="plain" onClick={() => is.zoom(1.25)} aria-label="Farther">
              −
            </button>
            <button type="button" class="plain" onClick={() => is.fit()}>
              Fit
            </button>
          </div>
          {measuring.value && (
            <p class="pan-measured" role="status">
              {tapeWords(around.tape.value.tape)} With keys: turn the mark in the middle onto a point, then Enter.
            </p>
          )}
          <ShowList scene={scene} hidden={hidden} />
        </figcaption>
      )}
    </figure>
  );
}
