// SPDX-License-Identifier: Apache-2.0
// Normals: smooth over what is round, sharp over what is bent.

const CREASE = Math.cos((32 * Math.PI) / 180);

/** (3 t) unit normals of triangles, each times its area for the sums that follow. */
function faceNormals(points: Float32Array, triangles: Uint32Array): Float32Array {
  const normals = new Float32Array(triangles.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t]!, b = 3 * triangles[t + 1]!, c = 3 * triangles[t + 2]!;
    const ux = points[b]! - points[a]!, uy = points[b + 1]! - points[a + 1]!, uz = points[b + 2]! - points[a + 2]!;
    const vx = points[c]! - points[a]!, vy = points[c + 1]! - points[a + 1]!, vz = points[c + 2]! - points[a + 2]!;
    normals[t] = uy * vz - uz * vy;
    normals[t + 1] = uz * vx - ux * vz;
    normals[t + 2] = ux * vy - uy * vx;
  }
  return normals;
}

/** First corner of each point's run, and the triangles round it, in one list. */
function roundPoints(count: number, triangles: Uint32Array): [Uint32Array, Uint32Array] {
  const first = new Uint32Array(count + 1);
  for (const p of triangles) first[p + 1]!++;
  for (let p = 0; p < count; p++) first[p + 1]! += first[p]!;
  const next = first.slice();
  const around = new Uint32Array(triangles.length);
  for (let k = 0; k < triangles.length; k++) around[next[triangles[k]!]!++] = Math.floor(k / 3);
  return [first, around];
}

export interface Skin {
  position: Float32Array;
  normal: Float32Array;
  index: Uint32Array;
  /** Number of the point that each of them is */
  source: Uint32Array;
}

const SAME = 1 - 1e-5;

/** A skin whose points stand once for each normal that they have: once where all round is smooth. */
export function skinned(points: Float32Array, triangles: Uint32Array): Skin {
  const faces = faceNormals(points, triangles);
  const count = points.length / 3;
  const [first, around] = roundPoints(count, triangles);
  const size = new Float32Array(triangles.length / 3);
  for (let t = 0; t < size.length; t++) size[t] = Math.hypot(faces[3 * t]!, faces[3 * t + 1]!, faces[3 * t + 2]!);
  const index = new Uint32Array(triangles.length);
  const normal: number[] = [];
  const source: number[] = [];
  for (let point = 0; point < count; point++) {
    const start = source.length;
    for (let i = first[point]!; i < first[point + 1]!; i++) {
      const own = around[i]!;
      const [x, y, z] = smooth(faces, size, around, first[point]!, first[point + 1]!, own);
      let slot = start;
      while (slot < source.length && normal[3 * slot]! * x + normal[3 * slot + 1]! * y + normal[3 * slot + 2]! * z < SAME) slot++;
      if (slot === source.length) {
        source.push(point);
        normal.push(x, y, z);
      }
      const corner = triangles[3 * own] === point ? 0 : triangles[3 * own + 1] === point ? 1 : 2;
      index[3 * own + corner] = slot;
    }
  }
  const position = new Float32Array(3 * source.length);
  source.forEach((point, slot) => position.set(points.subarray(3 * point, 3 * point + 3), 3 * slot));
  return { position, normal: new Float32Array(normal), index, source: new Uint32Array(source) };
}

/** The mean of the triangles round a point that bend little from `own`. */
function smooth(
  faces: Float32Array,
  size: Float32Array,
  around: Uint32Array,
  low: number,
  high: number,
  own: number,
): [number, number, number] {
  const nx = faces[3 * own]!, ny = faces[3 * own + 1]!, nz = faces[3 * own + 2]!;
  let x = 0, y = 0, z = 0;
  for (let j = low; j < high; j++) {
    const t = around[j]!;
    const fx = faces[3 * t]!, fy = faces[3 * t + 1]!, fz = faces[3 * t + 2]!;
    if (fx * nx + fy * ny + fz * nz < CREASE * size[own]! * size[t]!) continue;
    x += fx;
    y += fy;
    z += fz;
  }
  const length = Math.hypot(x, y, z) || 1;
  return [x / length, y / length, z / length];
}

/** The value of each point of a skin, of one for each point. */
export function bySource(values: Float32Array, source: Uint32Array): Float32Array {
  const spread = new Float32Array(source.length);
  for (let k = 0; k < source.length; k++) spread[k] = values[source[k]!]!;
  return spread;
}

/** Both ends of each line, for a list of lines. */
export function lineEnds(points: Float32Array, edges: Uint32Array): Float32Array {
  const ends = new Float32Array(3 * edges.length);
  for (let k = 0; k < edges.length; k++) {
    ends.set(points.subarray(3 * edges[k]!, 3 * edges[k]! + 3), 3 * k);
  }
  return ends;
}
