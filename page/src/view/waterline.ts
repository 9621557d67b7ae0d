// SPDX-License-Identifier: Apache-2.0
// Where a plane meets the skin of a body: the line that makes a cut look like a surface.

import { BufferAttribute, BufferGeometry, DynamicDrawUsage, type Vector3 } from "three";

/** The line of one body, drawn anew for each plane. */
export class Waterline {
  readonly geometry = new BufferGeometry();
  private readonly rise: Float32Array;
  private ends: Float32Array;

  constructor(
    private readonly points: Float32Array,
    private readonly triangles: Uint32Array,
  ) {
    this.rise = new Float32Array(points.length / 3);
    this.ends = new Float32Array(6 * 512);
    this.hold();
  }

  private hold(): void {
    const attribute = new BufferAttribute(this.ends, 3);
    attribute.setUsage(DynamicDrawUsage);
    this.geometry.setAttribute("position", attribute);
  }

  /** Plane `up`.x = height, in the frame of the points. */
  stand(up: Vector3, height: number): void {
    const { points, rise, triangles } = this;
    for (let p = 0; p < rise.length; p++) {
      rise[p] = up.x * points[3 * p]! + up.y * points[3 * p + 1]! + up.z * points[3 * p + 2]! - height;
    }
    let at = 0;
    for (let t = 0; t < triangles.length; t += 3) {
      const a = triangles[t]!, b = triangles[t + 1]!, c = triangles[t + 2]!;
      const over = +(rise[a]! > 0) + +(rise[b]! > 0) + +(rise[c]! > 0);
      if (over === 0 || over === 3) continue;
      if (at + 6 > this.ends.length) this.grow();
      at = this.cross(a, b, at);
      at = this.cross(b, c, at);
      at = this.cross(c, a, at);
    }
    this.geometry.setDrawRange(0, at / 3);
    const attribute = this.geometry.getAttribute("position") as BufferAttribute;
    attribute.needsUpdate = true;
    this.geometry.boundingSphere = null;
  }

  private grow(): void {
    const more = new Float32Array(2 * this.ends.length);
    more.set(this.ends);
    this.ends = more;
    this.geometry.dispose();
    this.hold();
  }

  private cross(a: number, b: number, at: number): number {
    const { points, rise, ends } = this;
    if (rise[a]! > 0 === rise[b]! > 0) return at;
    const share = rise[a]! / (rise[a]! - rise[b]!);
    for (let k = 0; k < 3; k++) {
      ends[at + k] = points[3 * a + k]! + share * (points[3 * b + k]! - points[3 * a + k]!);
    }
    return at + 3;
  }
}
