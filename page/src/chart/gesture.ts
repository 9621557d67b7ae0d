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

export class Gestures {
  private readonly fingers = new Map<number, Finger>();
  private from: number | null = null;
  private ends: [number, number] | null = null;

  /** The listeners go with the plot's own element. */
  constructor(
    private readonly plot: Plot,
    private readonly link: Link,
    private readonly zooms: boolean,
  ) {
    const { over } = plot;
    over.addEventListener("pointerdown", (event) => this.down(event));
    over.addEventListener("pointermove", (event) => this.move(event));
    over.addEventListener("pointerup", (event) => this.up(event));
    over.addEventListener("pointercancel", (event) => this.stop(event));
    over.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    if (zooms) over.addEventListener("dblclick", () => link.reset());
  }

  private leftOf(event: MouseEvent): number {
    return event.clientX - this.plot.over.getBoundingClientRect().left;
  }

  /** x under a pixel, of the edge where it is outside the plot. */
  private xAt(at: number): number {
    return this.plot.xAt(Math.min(Math.max(at, 0), this.plot.over.clientWidth));
  }

  private down(event: PointerEvent): void {
    const at = this.leftOf(event);
    if (event.pointerType !== "mouse") this.fingers.set(event.pointerId, { at, x: this.plot.xAt(at) });
    else if (event.button === 0 && this.zooms) this.from = at;
    this.plot.over.setPointerCapture(event.pointerId);
    this.link.at.value = this.plot.xAt(at);
  }

  private move(event: PointerEvent): void {
    const at = this.leftOf(event);
    const finger = this.fingers.get(event.pointerId);
    if (finger) finger.at = at;
    if (this.fingers.size > 1 && this.zooms) return this.pinch();
    if (event.pointerType === "mouse" && event.buttons === 0) this.from = null;
    if (this.from !== null && Math.abs(at - this.from) > DRAG) {
      this.ends = [this.from, at];
      this.plot.stretch(this.ends);
    }
    this.link.at.value = this.xAt(at);
  }

  private up(event: PointerEvent): void {
    if (this.ends) {
      const [a, b] = [this.xAt(this.ends[0]), this.xAt(this.ends[1])];
      this.link.look(Math.min(a, b), Math.max(a, b));
    }
    this.stop(event);
  }

  private stop(event: PointerEvent): void {
    this.fingers.delete(event.pointerId);
    this.from = this.ends = null;
    this.plot.stretch(null);
  }

  /** What the two fingers were put on stays under them. */
  private pinch(): void {
    const [a, b] = [...this.fingers.values()];
    if (!a || !b || a.at === b.at || a.x === b.x) return;
    const perPixel = Math.abs((b.x - a.x) / (b.at - a.at));
    const left = a.x - a.at * perPixel;
    this.link.look(left, left + perPixel * this.plot.over.clientWidth);
  }

  private wheel(event: WheelEvent): void {
    if (!event.ctrlKey || !this.zooms) return; // else the page scrolls, as anywhere
    event.preventDefault();
    this.link.zoom(Math.exp(-event.deltaY / 200), this.plot.xAt(this.leftOf(event)));
  }
}

/** What a key does to cursor and window; false where it is none of ours. */
export function keyed(event: KeyboardEvent, link: Link, zooms: boolean): boolean {
  const [from, to] = link.shown;
  const at = link.at.peek() ?? from;
  const step = (to - from) / (event.shiftKey ? 20 : 200);
  const [low, high] = link.whole.peek();
  const move = (x: number): void => link.point(Math.min(Math.max(x, low), high));
  const does: Record<string, () => void> = {
    ArrowLeft: () => move(at - step),
    ArrowRight: () => move(at + step),
    PageDown: () => move(at - (to - from) / 10),
    PageUp: () => move(at + (to - from) / 10),
    Home: () => move(low),
    End: () => move(high),
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
