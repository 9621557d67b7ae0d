// SPDX-License-Identifier: Apache-2.0
// Fingers, mouse and keys on a chart. A mouse drags a stretch to see it larger; one finger moves the
// cursor, two fingers pinch; the page still scrolls up and down under one finger.

import type { Link } from "./link";
import type { Plot } from "./plot";

interface Finger {
  at: number;
  /** Where in x it was put down */
  x: number;
}

/** Pixels that a drag has at least: less was a click. */
const DRAG = 6;

export function gestures(plot: Plot, link: Link, zooms: boolean): () => void {
  const { over } = plot;
  const fingers = new Map<number, Finger>();
  let from: number | null = null;
  let ends: [number, number] | null = null;
  const leftOf = (event: MouseEvent): number => event.clientX - over.getBoundingClientRect().left;

  const pinch = (): void => {
    const [a, b] = [...fingers.values()];
    if (!a || !b || a.at === b.at || a.x === b.x) return;
    const perPixel = Math.abs((b.x - a.x) / (b.at - a.at));
    const left = a.x - a.at * perPixel;
    link.look(left, left + perPixel * over.clientWidth);
  };

  const down = (event: PointerEvent): void => {
    const at = leftOf(event);
    if (event.pointerType === "mouse") {
      if (event.button === 0 && zooms) from = at;
    } else fingers.set(event.pointerId, { at, x: plot.xAt(at) });
    over.setPointerCapture(event.pointerId);
    link.at.value = plot.xAt(at);
  };
  const move = (event: PointerEvent): void => {
    const at = leftOf(event);
    const finger = fingers.get(event.pointerId);
    if (finger) finger.at = at;
    if (fingers.size > 1 && zooms) return pinch();
    if (event.pointerType === "mouse" && event.buttons === 0) from = null;
    if (from !== null && Math.abs(at - from) > DRAG) plot.stretch((ends = [from, at]));
    link.at.value = plot.xAt(Math.min(Math.max(at, 0), over.clientWidth));
  };
  const up = (event: PointerEvent): void => {
    fingers.delete(event.pointerId);
    if (ends) {
      const [a, b] = ends.map((e) => plot.xAt(Math.min(Math.max(e, 0), over.clientWidth)));
      link.look(Math.min(a!, b!), Math.max(a!, b!));
    }
    stop();
  };
  const stop = (): void => {
    from = ends = null;
    plot.stretch(null);
  };
  const wheel = (event: WheelEvent): void => {
    if (!event.ctrlKey || !zooms) return; // else the page scrolls, as anywhere
    event.preventDefault();
    link.zoom(Math.exp(-event.deltaY / 200), plot.xAt(leftOf(event)));
  };
  const whole = (): void => link.reset();

  over.addEventListener("pointerdown", down);
  over.addEventListener("pointermove", move);
  over.addEventListener("pointerup", up);
  over.addEventListener("pointercancel", (event) => (fingers.delete(event.pointerId), stop()));
  over.addEventListener("wheel", wheel, { passive: false });
  if (zooms) over.addEventListener("dblclick", whole);
  return stop; // the listeners go with the plot's own element
}

/** What a key does to cursor and window; false where it is none of ours. */
export function keyed(event: KeyboardEvent, link: Link, zooms: boolean): boolean {
  const [from, to] = link.shown;
  const at = link.at.peek() ?? from;
  const step = (to - from) / (event.shiftKey ? 20 : 200);
  const move = (x: number): void => {
    const [low, high] = link.whole.peek();
    link.point(Math.min(Math.max(x, low), high));
  };
  const does: Record<string, () => void> = {
    ArrowLeft: () => move(at - step),
    ArrowRight: () => move(at + step),
    PageDown: () => move(at - (to - from) / 10),
    PageUp: () => move(at + (to - from) / 10),
    Home: () => move(link.whole.peek()[0]),
    End: () => move(link.whole.peek()[1]),
    ...(zooms && {
      "+": () => link.zoom(1.5),
      "=": () => link.zoom(1.5),
      "-": () => link.zoom(1 / 1.5),
      "0": () => link.reset(),
      Escape: () => link.reset(),
    }),
  };
  if (event.ctrlKey || event.metaKey || event.altKey) return false;
  if (event.key === "Escape" && !link.window.peek()) return false;
  const action = does[event.key];
  action?.();
  return action !== undefined;
}
