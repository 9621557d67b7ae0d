// SPDX-License-Identifier: Apache-2.0
// What a part looks like: skin, lines, the bar along a rim, a door's leaf as it swings.

import {
  BufferAttribute,
  BufferGeometry,
  CatmullRomCurve3,
  LineSegments,
  Mesh,
  MeshBasicMaterial,
  TubeGeometry,
  Vector3,
} from "three";
import { lineEnds, skinned } from "./normals";
import type { ScenePart } from "./scene_file";
import { skinGeometry } from "./skin";

const RING = 0.0018; // m, half the thickness a pickup's rim is drawn with

export function skinOf(part: ScenePart): Mesh | null {
  return part.triangles.length ? new Mesh(skinGeometry(part)) : null;
}

export function linesOf(part: ScenePart): LineSegments | null {
  if (!part.edges.length) return null;
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(lineEnds(part.points, part.edges), 3));
  return new LineSegments(geometry);
}

/** A round bar along the part's loop. */
export function ring(part: ScenePart): Mesh | null {
  const loop = part.loops[0];
  if (!loop || loop.length < 2) return null;
  const points = [...loop].map((k) => new Vector3().fromArray(part.points, 3 * k));
  const closed = part.kind !== "dipstick";
  const curve = new CatmullRomCurve3(points, closed, "catmullrom", closed ? 0.1 : 0.5);
  return new Mesh(new TubeGeometry(curve, closed ? 2 * points.length : 2, RING, 8, closed));
}

export function ghost(skin: Mesh): Mesh<BufferGeometry, MeshBasicMaterial> {
  const paint = new MeshBasicMaterial({ transparent: true, opacity: 0.45, depthTest: false, depthWrite: false });
  const twin = new Mesh(skin.geometry, paint);
  twin.renderOrder = 300;
  return twin;
}

export function refill(skin: Mesh, line: LineSegments | null, part: ScenePart, leaf: Float32Array): void {
  const { position, normal } = skinned(leaf, part.triangles);
  for (const [key, values] of [["position", position], ["normal", normal]] as const) {
    const attribute = skin.geometry.getAttribute(key) as BufferAttribute;
    (attribute.array as Float32Array).set(values);
    attribute.needsUpdate = true;
  }
  const ends = line?.geometry.getAttribute("position") as BufferAttribute | undefined;
  if (!ends) return;
  (ends.array as Float32Array).set(lineEnds(leaf, part.edges));
  ends.needsUpdate = true;
}
