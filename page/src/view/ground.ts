// SPDX-License-Identifier: Apache-2.0
// The ground under the car: a net of 100 mm squares at z = 0.

import { type Box3, BufferAttribute, BufferGeometry, LineBasicMaterial, LineSegments } from "three";

const SQUARE = 0.1;

export function groundGrid(box: Box3): LineSegments {
  const low = (v: number) => SQUARE * (Math.floor(v / SQUARE) - 1);
  const high = (v: number) => SQUARE * (Math.ceil(v / SQUARE) + 1);
  const [x0, x1, y0, y1] = [low(box.min.x), high(box.max.x), low(box.min.y), high(box.max.y)];
  const ends: number[] = [];
  for (let x = x0; x < x1 + 1e-6; x += SQUARE) ends.push(x, y0, 0, x, y1, 0);
  for (let y = y0; y < y1 + 1e-6; y += SQUARE) ends.push(x0, y, 0, x1, y, 0);
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(new Float32Array(ends), 3));
  return new LineSegments(geometry, new LineBasicMaterial({ transparent: true, opacity: 0.45 }));
}
