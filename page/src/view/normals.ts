// SPDX-License-Identifier: Apache-2.0
// Corner normals: smooth over what is round, sharp over what is bent.

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

/** Positions and normals corner by corner, three corners a triangle. */
export function corners(
  points: Float32Array,
  triangles: Uint32Array,
): { position: Float32Array; normal: Float32Array } {
  const faces = faceNormals(points, triangles);
  const [first, around] = roundPoints(points.length / 3, triangles);
  const size = new Float32Array(triangles.length / 3);
  for (let t = 0; t < size.length; t++) size[t] = Math.hypot(faces[3 * t]!, faces[3 * t + 1]!, faces[3 * t + 2]!);
  const position = new Float32Array(3 * triangles.length);
  const normal = new Float32Array(3 * triangles.length);
  for (let k = 0; k < triangles.length; k++) {
    const point = triangles[k]!;
    const own = Math.floor(k / 3);
    const nx = faces[3 * own]!, ny = faces[3 * own + 1]!, nz = faces[3 * own + 2]!;
    let x = 0, y = 0, z = 0;
    for (let j = first[point]!; j < first[point + 1]!; j++) {
      const t = around[j]!;
      const fx = faces[3 * t]!, fy = faces[3 * t + 1]!, fz = faces[3 * t + 2]!;
      if (fx * nx + fy * ny + fz * nz < CREASE * size[own]! * size[t]!) continue;
      x += fx;
      y += fy;
      z += fz;
    }
    const length = Math.hypot(x, y, z) || 1;
    normal[3 * k] = x / length;
    normal[3 * k + 1] = y / length;
    normal[3 * k + 2] = z / length;
    position[3 * k] = points[3 * point]!;
    position[3 * k + 1] = points[3 * point + 1]!;
    position[3 * k + 2] = points[3 * point + 2]!;
  }
  return { position, normal };
}

/** One value for each corner, of one for each point. */
export function byCorner(values: Float32Array, triangles: Uint32Array): Float32Array {
  const spread = new Float32Array(triangles.length);
  for (let k = 0; k < triangles.length; k++) spread[k] = values[triangles[k]!]!;
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
