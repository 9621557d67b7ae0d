// SPDX-License-Identifier: Apache-2.0
// The 3D view without its frame: stage, model and pointer together. Loaded when first wanted.

import { Vector3 } from "three";
import type { Colour, Kind, Oil } from "./contract";
import { inks, onInksChanged } from "./inks";
import { Model } from "./model";
import { bindOrbit, orbitKey } from "./orbit";
import { meet, type Met, Tape } from "./pick";
import type { PanScene } from "./scene_file";
import { Stage } from "./stage";
import { VIEWS } from "./views";

export type Axis = "x" | "y" | "z";

/** Car frame, metres. */
export interface Place {
  x: number;
  y: number;
  z: number;
}

/** What lies past `at` along an axis of the car is taken away: with `beyond` the larger numbers. */
export interface Cut {
  axis: Axis;
  at: number;
  beyond: boolean;
}

export interface Seen {
  cut: Cut | null;
  /** A place in the view: CSS pixels from its upper left corner; null behind the eye */
  of: (point: Place) => { x: number; y: number } | null;
  /** The car's axes on the screen: right and down, for a length of 1 */
  axes: Record<Axis, { x: number; y: number; away: boolean }>;
}

export interface Hearer {
  drawn: (seen: Seen) => void;
  lost: (is: boolean) => void;
  met: (met: Met | null, x: number, y: number) => void;
  measured: (tape: Tape) => void;
}

const DWELL = 160; // ms a pointer rests before it is asked what lies under it

export class View3D {
  readonly tape = new Tape();
  model: Model | null = null;
  measuring = false;
  private readonly stage: Stage;
  private readonly undo: (() => void)[] = [];
  private dwell = 0;
  private held = false;
  private framed = false;

  constructor(
    private readonly place: HTMLElement,
    private readonly hearer: Hearer,
  ) {
    this.stage = new Stage(place, { drawn: () => this.drawn(), lost: hearer.lost });
    const orbit = this.stage.orbit;
    const moving = (is: boolean) => {
      this.held = is;
      this.hearer.met(null, 0, 0);
    };
    this.undo.push(bindOrbit(place, orbit, { tap: (x, y) => this.tap(x, y), moving }));
    place.addEventListener("pointermove", this.hover);
    place.addEventListener("pointerleave", this.left);
    this.undo.push(onInksChanged(() => this.paint()));
  }

  private colour: Colour = "plain";
  private laid: Cut | null = null;

  show(scene: PanScene, colour: Colour): void {
    if (this.model) {
      this.stage.scene.remove(this.model.root);
      if (!this.stage.wasLost) this.model.dispose();
    }
    this.colour = colour;
    this.model = new Model(scene, inks(), colour);
    this.stage.scene.add(this.model.root);
    if (this.laid) this.cut(this.laid.axis, this.laid.at, this.laid.beyond);
    this.stage.dirty();
  }

  /** Paint by another meaning. */
  paint(colour: Colour = this.colour): void {
    this.colour = colour;
    this.model?.paint(inks(), colour);
    this.stage.dirty();
  }

  hide(names: ReadonlySet<string>): void {
    this.model?.hide(names);
    if (!this.framed && this.model) {
      this.framed = true;
      this.view("quarter");
    }
    this.stage.dirty();
  }

  oil(oil: Oil | null): void {
    this.model?.stand(oil);
    this.stage.dirty();
  }

  doors(angles: Readonly<Record<string, number>>): void {
    this.model?.swing(angles);
    this.stage.dirty();
  }

  view(id: string): void {
    const named = VIEWS.find((v) => v.id === id) ?? VIEWS[0];
    if (!named) return;
    this.stage.orbit.look(named.azimuth, named.elevation);
    this.fit();
  }

  fit(): void {
    if (this.model) this.stage.orbit.fit(this.model.sample());
  }

  key(event: KeyboardEvent): boolean {
    return orbitKey(this.stage.orbit, event);
  }

  zoom(factor: number): void {
    this.stage.orbit.zoom(factor);
  }

  /** Ends of what can be cut along an axis of the car [m]. */
  reach(axis: Axis): [number, number] {
    const box = this.model?.bounds((kind: Kind) => kind !== "ground" && kind !== "obstacle");
    return box && !box.isEmpty() ? [box.min[axis], box.max[axis]] : [0, 1];
  }

  /** Whether the side toward the eye is the one with the larger numbers. */
  nearSide(axis: Axis): boolean {
    const { camera, orbit } = this.stage;
    return camera.position[axis] >= orbit.target[axis];
  }

  /** Take away what lies beyond `at` [m] on one side; null: nothing. */
  cut(axis: Axis, at: number | null, beyond = true): void {
    const model = this.model;
    if (!model) return;
    this.laid = at === null ? null : { axis, at, beyond };
    model.cutting = at !== null;
    if (at !== null) {
      const sign = beyond ? -1 : 1;
      model.cut.normal.set(0, 0, 0);
      model.cut.normal[axis] = sign;
      model.cut.constant = -sign * at;
    }
    model.recut();
    this.stage.dirty();
  }

  measure(is: boolean): void {
    this.measuring = is;
    if (!is) this.tape.ends = [];
    this.hearer.measured(this.tape);
    this.stage.dirty();
  }

  private tap(x: number, y: number): void {
    if (this.measuring) return this.mark(x, y);
    const box = this.place.getBoundingClientRect();
    this.hearer.met(this.at(x, y), x - box.left, y - box.top); // a finger cannot hover
  }

  /** Put an end of the tape where the window's point (x, y) meets a part; the middle if left out. */
  mark(x?: number, y?: number): void {
    const met = this.at(x, y);
    if (!met) return;
    this.tape.put(met.at);
    this.hearer.measured(this.tape);
    this.stage.dirty();
  }

  private at(x?: number, y?: number): Met | null {
    const box = this.place.getBoundingClientRect();
    if (!this.model) return null;
    const across = x === undefined ? 0 : (2 * (x - box.left)) / box.width - 1;
    const high = y === undefined ? 0 : 1 - (2 * (y - box.top)) / box.height;
    return meet(this.model, this.stage.camera, across, high);
  }

  private readonly hover = (event: PointerEvent): void => {
    clearTimeout(this.dwell);
    if (this.held || event.pointerType === "touch") return;
    const { clientX, clientY } = event;
    const box = this.place.getBoundingClientRect();
    this.hearer.met(null, 0, 0);
    this.dwell = window.setTimeout(() => {
      this.hearer.met(this.at(clientX, clientY), clientX - box.left, clientY - box.top);
    }, DWELL);
  };

  private readonly left = (event: PointerEvent): void => {
    clearTimeout(this.dwell);
    if (event.pointerType === "touch") return; // a finger leaves with every tap
    this.hearer.met(null, 0, 0);
  };

  private drawn(): void {
    const { camera, size } = this.stage;
    const project = (point: Place) => {
      const p = new Vector3(point.x, point.y, point.z).project(camera);
      if (p.z > 1) return null;
      return { x: 0.5 * (p.x + 1) * size.x, y: 0.5 * (1 - p.y) * size.y };
    };
    const view = camera.matrixWorldInverse.elements;
    const axis = (k: number) => ({ x: view[4 * k] ?? 0, y: -(view[4 * k + 1] ?? 0), away: (view[4 * k + 2] ?? 0) < 0 });
    this.hearer.drawn({ cut: this.laid, of: project, axes: { x: axis(0), y: axis(1), z: axis(2) } });
  }

  /** ms between the last pictures in a row; 0 at rest. */
  get took(): number {
    return this.stage.took;
  }

  dispose(): void {
    clearTimeout(this.dwell);
    for (const one of this.undo) one();
    this.place.removeEventListener("pointermove", this.hover);
    this.place.removeEventListener("pointerleave", this.left);
    if (!this.stage.wasLost) this.model?.dispose();
    this.stage.dispose();
  }
}
