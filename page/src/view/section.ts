// SPDX-License-Identifier: Apache-2.0
// The line that the cut plane leaves on a part.

import { type BufferGeometry, LineBasicMaterial, LineSegments, type Matrix4, type Plane, Vector3 } from "three";
import type { ScenePart } from "./scene_file";
import { Waterline } from "./waterline";

export class Section {
  readonly line: LineSegments<BufferGeometry, LineBasicMaterial>;
  private water: Waterline | null = null;

  constructor(private readonly part: ScenePart) {
    this.line = new LineSegments(undefined, new LineBasicMaterial());
    this.line.visible = false;
    this.line.renderOrder = 150;
  }

  /** Lay it anew; null: nothing is cut. `pose` takes the part to the car's frame. */
  lay(plane: Plane | null, pose: Matrix4 | null): void {
    this.line.visible = plane !== null;
    if (!plane) return;
    if (!this.water) {
      this.water = new Waterline(this.part.points, this.part.triangles);
      this.line.geometry = this.water.geometry;
    }
    const normal = plane.normal.clone();
    let height = -plane.constant;
    if (pose) {
      height -= normal.dot(new Vector3().setFromMatrixPosition(pose));
      normal.transformDirection(pose.clone().invert());
    }
    this.water.stand(normal, height);
  }

  dispose(): void {
    this.line.geometry.dispose();
    this.line.material.dispose();
  }
}
