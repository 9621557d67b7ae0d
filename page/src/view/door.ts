// SPDX-License-Identifier: Apache-2.0
import type { DoorSaid } from "./scene_file";

/** (4 x 3) corners of a door's leaf, open by `angle` [rad]: hinge first, then the free edge. */
export function doorLeaf(door: DoorSaid, angle: number): Float32Array {
  const reach = Math.cos(angle) * door.length, swing = Math.sin(angle) * door.length;
  const corners = new Float32Array(12);
  for (let k = 0; k < 3; k++) {
    const arm = reach * door.reach[k]! + swing * door.swing[k]!;
    corners[k] = door.hinge[0][k]!;
    corners[3 + k] = door.hinge[1][k]!;
    corners[6 + k] = door.hinge[1][k]! + arm;
    corners[9 + k] = door.hinge[0][k]! + arm;
  }
  return corners;
}
