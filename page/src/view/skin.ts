// SPDX-License-Identifier: Apache-2.0
// A part's skin as the graphics want it.

import { BufferAttribute, BufferGeometry } from "three";
import { bySource, skinned } from "./normals";
import type { Colours } from "./scene_file";

export interface Triangles {
  points: Float32Array;
  triangles: Uint32Array;
}

export function skinGeometry(part: Triangles, colours: Colours | null = null): BufferGeometry {
  const geometry = new BufferGeometry();
  const { position, normal, index, source } = skinned(part.points, part.triangles);
  geometry.setAttribute("position", new BufferAttribute(position, 3));
  geometry.setAttribute("normal", new BufferAttribute(normal, 3));
  geometry.setIndex(new BufferAttribute(index, 1));
  if (colours) {
    geometry.setAttribute("gap", new BufferAttribute(bySource(colours.gap, source), 1));
    geometry.setAttribute("needed", new BufferAttribute(bySource(colours.needed, source), 1));
  }
  return geometry;
}

/** Its points alone, each once: enough to count by. */
export function bareGeometry(part: Triangles): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(part.points, 3));
  geometry.setIndex(new BufferAttribute(part.triangles, 1));
  return geometry;
}
