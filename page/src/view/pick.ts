// SPDX-License-Identifier: Apache-2.0
// What lies under the pointer, and how far apart two points are.

import { type Camera, type Intersection, type Mesh, Raycaster, Vector2, Vector3 } from "three";
import type { Model, Shown } from "./model";

export interface Met {
  shown: Pick<Shown, "name" | "kind">;
  /** Car frame, metres */
  at: Vector3;
  /** Room to the nearest obstacle there, and what is asked for; where it is known */
  gap: number | null;
  needed: number | null;
}

const ray = new Raycaster();
const LID = 0.7; // a face that looks up as much as this

/**
 * The first part under a place of the view (-1 to 1, up is positive). What is looked into from above,
 * as a pan through its open top, is met only where nothing lies below.
 */
export function meet(model: Model, camera: Camera, x: number, y: number): Met | null {
  ray.setFromCamera(new Vector2(x, y), camera);
  const part = meetPart(model);
  const oil = meetOil(model);
  if (!part || !oil) return part ?? oil;
  const { origin } = ray.ray;
  return part.top || oil.at.distanceTo(origin) < part.at.distanceTo(origin) ? oil : part;
}

/** The oil that is seen, its surface or where it is cut. */
function meetOil(model: Model): Met | null {
  let first = Infinity;
  let met: Met | null = null;
  for (const body of model.oil) {
    const at = body.meet(ray);
    if (at === null || at >= first) continue;
    first = at;
    const shown = { name: body.part.name, kind: "compartment" } as const;
    met = { shown, at: ray.ray.at(at, new Vector3()), gap: null, needed: null };
  }
  return met;
}

/** `top`: looked into from above, with nothing solid below. */
function meetPart(model: Model): (Met & { top?: boolean }) | null {
  let top: Met | null = null;
  for (const hit of ray.intersectObjects(model.solid(), false)) {
    if (model.cutting && model.cut.distanceToPoint(hit.point) < 0) continue;
    const shown = model.of(hit.object);
    if (!shown) continue;
    const met = metAt(hit, shown);
    const up = hit.face?.normal.clone().transformDirection(hit.object.matrixWorld).z ?? 0;
    if (!model.seenInto(shown) || up < LID) return met;
    top ??= met;
  }
  return top && { ...top, top: true };
}

function metAt(hit: Intersection, shown: Shown): Met {
  const share = hit.barycoord ?? new Vector3(1, 0, 0);
  const at = (name: string): number | null => {
    const values = (hit.object as Mesh).geometry.getAttribute(name);
    if (!values || !hit.face) return null;
    const { a, b, c } = hit.face;
    return share.x * values.getX(a) + share.y * values.getX(b) + share.z * values.getX(c);
  };
  const needed = at("needed");
  return { shown, at: hit.point, gap: at("gap"), needed: needed != null && needed > 0 ? needed : null };
}

/** Both ends of a measured length; the second may be to come. */
export class Tape {
  ends: Vector3[] = [];

  put(at: Vector3): void {
    if (this.ends.length >= 2) this.ends = [];
    this.ends.push(at.clone());
  }

  get length(): number | null {
    const [a, b] = this.ends;
    return a && b ? a.distanceTo(b) : null;
  }

  /** From the first end to the second: forward, left, up. */
  get way(): Vector3 | null {
    const [a, b] = this.ends;
    return a && b ? b.clone().sub(a) : null;
  }
}
