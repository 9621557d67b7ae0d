// SPDX-License-Identifier: Apache-2.0
// Turning the view with mouse, finger and keys; z stays up.

import { Box3, type PerspectiveCamera, Vector3 } from "three";

const RAD = Math.PI / 180;
const STEEPEST = 89.95;
const FIT = 1.16; // room for oil that climbs out over the rail

/** Where the camera stands: angles in degrees, distance and target in metres. */
export class Orbit {
  azimuth = 42;
  elevation = 30;
  distance = 1;
  readonly target = new Vector3();
  private reach = 1;

  constructor(
    private readonly camera: PerspectiveCamera,
    private readonly changed: () => void,
  ) {}

  look(azimuth: number, elevation: number): void {
    this.azimuth = ((azimuth % 360) + 360) % 360;
    this.elevation = Math.max(-STEEPEST, Math.min(STEEPEST, elevation));
    this.place();
  }

  turn(right: number, up: number): void {
    this.look(this.azimuth + right, this.elevation + up);
  }

  zoom(factor: number): void {
    this.distance = Math.max(0.05 * this.reach, Math.min(20 * this.reach, this.distance * factor));
    this.place();
  }

  /** Move the target across the view by shares of its height. */
  shift(right: number, up: number): void {
    const high = 2 * this.distance * Math.tan(0.5 * this.camera.fov * RAD);
    const across = new Vector3().setFromMatrixColumn(this.camera.matrixWorld, 0);
    const upward = new Vector3().setFromMatrixColumn(this.camera.matrixWorld, 1);
    this.target.addScaledVector(across, right * high).addScaledVector(upward, up * high);
    this.place();
  }

  /** As near as shows all of `points` (x, y, z in a row), from the present angles. */
  fit(points: Float32Array): void {
    if (points.length < 3) return;
    const box = new Box3().setFromArray(points as unknown as number[]);
    box.getCenter(this.target);
    this.reach = box.getSize(new Vector3()).length();
    this.place();
    const seen = this.around(points);
    // the middle of what is seen, not of the box round it
    const across = 0.5 * (seen.right[0] + seen.right[1]), upward = 0.5 * (seen.up[0] + seen.up[1]);
    this.target.addScaledVector(this.axis(0), across).addScaledVector(this.axis(1), upward);
    this.place();
    const high = Math.tan(0.5 * this.camera.fov * RAD);
    const wide = high * this.camera.aspect;
    const [right, up, toward] = [this.axis(0), this.axis(1), this.toward()];
    const point = new Vector3();
    let far = 0;
    for (let k = 0; k + 2 < points.length; k += 3) {
      point.fromArray(points, k).sub(this.target);
      const need = Math.max(Math.abs(point.dot(right)) / wide, Math.abs(point.dot(up)) / high);
      far = Math.max(far, point.dot(toward) + FIT * need);
    }
    this.distance = far;
    this.place();
  }

  private axis(column: number): Vector3 {
    return new Vector3().setFromMatrixColumn(this.camera.matrixWorld, column);
  }

  /** How far points reach across and up the view from the target. */
  private around(points: Float32Array): { right: [number, number]; up: [number, number] } {
    const [right, up, point] = [this.axis(0), this.axis(1), new Vector3()];
    const found = { right: [Infinity, -Infinity] as [number, number], up: [Infinity, -Infinity] as [number, number] };
    for (let k = 0; k + 2 < points.length; k += 3) {
      point.fromArray(points, k).sub(this.target);
      const a = point.dot(right), b = point.dot(up);
      found.right = [Math.min(found.right[0], a), Math.max(found.right[1], a)];
      found.up = [Math.min(found.up[0], b), Math.max(found.up[1], b)];
    }
    return found;
  }

  private toward(): Vector3 {
    const a = this.azimuth * RAD, e = this.elevation * RAD;
    return new Vector3(Math.cos(e) * Math.cos(a), Math.cos(e) * Math.sin(a), Math.sin(e));
  }

  place(): void {
    this.camera.position.copy(this.target).addScaledVector(this.toward(), this.distance);
    this.camera.up.set(0, 0, 1);
    this.camera.lookAt(this.target);
    this.camera.near = Math.max(0.002, this.distance - 2 * this.reach);
    this.camera.far = this.distance + 4 * this.reach;
    this.camera.updateProjectionMatrix();
    this.camera.updateMatrixWorld();
    this.changed();
  }
}

interface Finger {
  x: number;
  y: number;
}

/** Binds an orbit to an element; returns how to unbind it. `tap` is a press without a drag. */
export function bindOrbit(
  element: HTMLElement,
  orbit: Orbit,
  told: { tap: (x: number, y: number) => void; moving: (is: boolean) => void },
): () => void {
  const fingers = new Map<number, Finger>();
  let travelled = 0;

  const down = (event: PointerEvent) => {
    element.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (fingers.size === 1) travelled = 0;
    told.moving(true);
  };
  const move = (event: PointerEvent) => {
    const finger = fingers.get(event.pointerId);
    if (!finger) return;
    const dx = event.clientX - finger.x, dy = event.clientY - finger.y;
    const before = [...fingers.values()].map((f) => ({ ...f }));
    finger.x = event.clientX;
    finger.y = event.clientY;
    travelled += Math.abs(dx) + Math.abs(dy);
    const high = element.clientHeight || 1;
    if (fingers.size === 1) {
      if (event.shiftKey || event.buttons & 6) orbit.shift(-dx / high, dy / high);
      else orbit.turn(-0.4 * dx, 0.4 * dy);
    } else if (fingers.size === 2) {
      pinch(orbit, before as [Finger, Finger], [...fingers.values()] as [Finger, Finger], high);
    }
  };
  const up = (event: PointerEvent) => {
    if (!fingers.delete(event.pointerId)) return;
    if (fingers.size > 0) return;
    told.moving(false);
    if (event.type === "pointerup" && travelled < 6) told.tap(event.clientX, event.clientY);
  };
  const wheel = (event: WheelEvent) => {
    if (!element.contains(document.activeElement) && !event.ctrlKey) return; // the page scrolls by
    event.preventDefault();
    orbit.zoom(Math.exp(0.0015 * event.deltaY));
  };
  const menu = (event: Event) => event.preventDefault();
  element.addEventListener("pointerdown", down);
  element.addEventListener("pointermove", move);
  element.addEventListener("pointerup", up);
  element.addEventListener("pointercancel", up);
  element.addEventListener("wheel", wheel, { passive: false });
  element.addEventListener("contextmenu", menu);
  return () => {
    element.removeEventListener("pointerdown", down);
    element.removeEventListener("pointermove", move);
    element.removeEventListener("pointerup", up);
    element.removeEventListener("pointercancel", up);
    element.removeEventListener("wheel", wheel);
    element.removeEventListener("contextmenu", menu);
  };
}

function pinch(orbit: Orbit, before: [Finger, Finger], after: [Finger, Finger], high: number): void {
  const span = (f: [Finger, Finger]) => Math.hypot(f[0].x - f[1].x, f[0].y - f[1].y) || 1;
  const middle = (f: [Finger, Finger], axis: "x" | "y") => 0.5 * (f[0][axis] + f[1][axis]);
  orbit.zoom(span(before) / span(after));
  orbit.shift((middle(before, "x") - middle(after, "x")) / high, (middle(after, "y") - middle(before, "y")) / high);
}

/** Whether a key turned the view. */
export function orbitKey(orbit: Orbit, event: KeyboardEvent): boolean {
  const step = event.ctrlKey ? 1 : 8;
  const shift: Record<string, [number, number]> = {
    ArrowLeft: [-1, 0],
    ArrowRight: [1, 0],
    ArrowUp: [0, 1],
    ArrowDown: [0, -1],
  };
  const way = shift[event.key];
  if (way && event.shiftKey) orbit.shift(0.05 * way[0], 0.05 * way[1]);
  else if (way) orbit.turn(step * way[0], step * way[1]);
  else if (event.key === "+" || event.key === "=") orbit.zoom(1 / 1.15);
  else if (event.key === "-") orbit.zoom(1.15);
  else return false;
  event.preventDefault();
  return true;
}
