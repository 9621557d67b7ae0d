// SPDX-License-Identifier: Apache-2.0
// The pad's directions and words (ISO 8855: x forward, y left), and the shapes that the 3D view draws.

import assert from "node:assert/strict";
import { test } from "node:test";
import { Box3, Matrix4, PerspectiveCamera, Plane, Raycaster, Vector3 } from "three";
import { hiddenAgain } from "../src/view/choice";
import { doorLeaf } from "../src/view/door";
import { boxOf, middleLeft } from "../src/view/letter";
import { skinned } from "../src/view/normals";
import { OilBody } from "../src/view/oil";
import { Orbit } from "../src/view/orbit";
import { accelAt, climbs, kept, limitToward, motionWords, placeOf, toward } from "../src/view/pad";
import type { ScenePart } from "../src/view/scene_file";
import { Waterline } from "../src/view/waterline";

const near = (a: number, b: number, within = 1e-6) => assert.ok(Math.abs(a - b) <= within, `${a} is not ${b}`);

/** A box from the origin; every corner once. */
function box(x: number, y: number, z: number): { points: Float32Array; triangles: Uint32Array } {
  const points: number[] = [];
  for (const i of [0, x]) for (const j of [0, y]) for (const k of [0, z]) points.push(i, j, k);
  const quads = [[0, 1, 3, 2], [4, 6, 7, 5], [0, 4, 5, 1], [2, 3, 7, 6], [0, 2, 6, 4], [1, 5, 7, 3]];
  const triangles = quads.flatMap(([a, b, c, d]) => [a!, b!, c!, a!, c!, d!]);
  return { points: new Float32Array(points), triangles: new Uint32Array(triangles) };
}

test("a left turn lies on the left of the pad, and the oil climbs the right wall", () => {
  const left = { ax: 0, ay: 0.8 };
  assert.deepEqual(placeOf(left, 1.6), { x: -50, y: -0 });
  assert.equal(motionWords(left), "left turn");
  assert.equal(climbs(left), "the right wall");
  assert.equal(climbs({ ax: -0.9, ay: 0 }), "the front wall"); // braking
  assert.equal(climbs({ ax: 0.5, ay: 0 }), "the rear wall");
  assert.equal(motionWords({ ax: -0.6, ay: -0.6 }), "braking in a right turn");
  assert.equal(climbs({ ax: -0.6, ay: -0.6 }), "the front left corner");
  assert.equal(climbs({ ax: 0, ay: 0 }), null);
});

test("a place of the pad is the acceleration that lies there, and no more than the edge", () => {
  for (const degrees of [0, 37, 90, 181, 270]) {
    const a = toward(degrees, 1.2);
    const { x, y } = placeOf(a, 1.6);
    const back = accelAt(x, y, 1.6);
    near(back.ax, a.ax, 6e-4); // thousandths of a g
    near(back.ay, a.ay, 6e-4);
  }
  near(Math.hypot(...Object.values(kept({ ax: 3, ay: -4 }, 1.6))), 1.6, 1e-3);
});

test("a limit between two known directions is between their limits", () => {
  const directions = [0, 90, 180, 270];
  const limits = [1, 2, 3, 4];
  near(limitToward(directions, limits, toward(45, 0.5))!, 1.5);
  near(limitToward(directions, limits, toward(315, 0.5))!, 2.5); // from the last round to the first
  assert.equal(limitToward(directions, limits, { ax: 0, ay: 0 }), null);
});

test("a door shut hangs along its reach, and at a quarter turn stands along its swing", () => {
  const door = {
    hinge: [[0, 0, 0], [0, 0.04, 0]] as const,
    reach: [0, 0, -1] as const,
    swing: [1, 0, 0] as const,
    length: 0.02,
    stop: 1.2,
    ends: null,
  };
  const close = (found: Float32Array, wanted: number[]) => wanted.forEach((v, k) => near(found[k]!, v, 1e-8));
  close(doorLeaf(door as never, 0), [0, 0, 0, 0, 0.04, 0, 0, 0.04, -0.02, 0, 0, -0.02]);
  close(doorLeaf(door as never, Math.PI / 2), [0, 0, 0, 0, 0.04, 0, 0.02, 0.04, 0, 0.02, 0, 0]);
});

test("a box has three normals at each corner; a bend under the crease has one", () => {
  const { points, triangles } = box(1, 2, 3);
  const skin = skinned(points, triangles);
  assert.equal(skin.source.length, 24);
  skin.index.forEach((slot, k) => assert.equal(skin.source[slot], triangles[k]));
  for (let k = 0; k < 24; k++) near(Math.hypot(...skin.normal.subarray(3 * k, 3 * k + 3)), 1, 1e-6);
  const bent = new Float32Array([0, 0, 0, 1, 0, 0, 1, 1, 0.2, 0, 1, 0.2, 1, -1, 0.2, 0, -1, 0.2]); // 23 degrees
  assert.equal(skinned(bent, new Uint32Array([0, 1, 2, 0, 2, 3, 0, 5, 4, 0, 4, 1])).source.length, 6);
});

test("the line of a level surface in a box goes once round it", () => {
  const { points, triangles } = box(3, 4, 1);
  const water = new Waterline(points, triangles);
  water.stand(new Vector3(0, 0, 1), 0.5);
  const ends = water.geometry.getAttribute("position").array as Float32Array;
  let length = 0;
  for (let k = 0; k < water.geometry.drawRange.count; k += 2) {
    length += Math.hypot(...[0, 1, 2].map((c) => ends[3 * k + c]! - ends[3 * k + 3 + c]!));
  }
  near(length, 2 * (3 + 4), 1e-5);
  water.stand(new Vector3(0, 0, 1), 2);
  assert.equal(water.geometry.drawRange.count, 0);
});

test("a height counted over the middle is the plane's through that point, whatever the pose", () => {
  const part = { ...box(0.3, 0.2, 0.1), name: "A", kind: "compartment" } as unknown as ScenePart;
  const pose = new Matrix4().makeRotationZ(0.7).setPosition(1, -2, 0.3);
  const body = new OilBody(part, 0, pose, new Plane());
  const up = new Vector3(0.2, -0.1, 1).normalize();
  const over = new Vector3(0.5, 0.3, 1).normalize();
  const origin = new Vector3(1, -2, 0.3);
  const middle = new Vector3(0.15, 0.1, 0.05).applyMatrix4(pose).sub(origin);
  const there = middle.clone().addScaledVector(over, 0.02 - over.dot(middle)); // 0.02 m along `over`
  near(body.along(up, 0.02, over), up.dot(there), 1e-7);
  near(body.along(up, 0.02, up), 0.02, 1e-7);
});

test("a view fitted to points shows them all, from every side", () => {
  const { points } = box(0.4, 0.25, 0.18);
  const camera = new PerspectiveCamera(26, 1.3, 0.01, 10);
  const orbit = new Orbit(camera, () => undefined);
  for (const [azimuth, elevation] of [[42, 30], [90, 0], [180, 90], [0, -90], [300, 10]] as const) {
    orbit.look(azimuth, elevation);
    orbit.fit(points);
    const seen = new Box3();
    for (let k = 0; k < points.length; k += 3) seen.expandByPoint(new Vector3().fromArray(points, k).project(camera));
    assert.ok(seen.min.x >= -1 && seen.max.x <= 1 && seen.min.y >= -1 && seen.max.y <= 1, `${azimuth} ${elevation}`);
    assert.ok(Math.max(seen.max.x - seen.min.x, seen.max.y - seen.min.y) > 1.4, "it fills the view");
  }
});

test("oil is met where its surface is looked at, or where it is cut, and nowhere else", () => {
  const part = { ...box(0.3, 0.2, 0.1), name: "A", kind: "compartment" } as unknown as ScenePart;
  const cut = new Plane(new Vector3(1, 0, 0), -0.1); // keeps what lies in front of x = 0.1
  const body = new OilBody(part, 0, new Matrix4(), cut);
  body.group.updateMatrixWorld(true);
  const from = (x: number, y: number, z: number, ...way: [number, number, number]) =>
    body.meet(new Raycaster(new Vector3(x, y, z), new Vector3(...way)));
  body.stand(new Vector3(0, 0, 1), 0.06);
  assert.equal(from(0.2, 0.07, 1, 0, 0, -1), null); // not shown
  body.show(true);
  near(from(0.2, 0.07, 1, 0, 0, -1)!, 0.94, 1e-6);
  near(from(0.15, 0.1, 1, 0, 0, -1)!, 0.94, 1e-6); // over an edge of the body's own faces
  assert.equal(from(0.4, 0.07, 1, 0, 0, -1), null); // beside the body
  assert.equal(from(-1, 0.07, 0.03, 1, 0, 0), null); // through its side, below the surface
  body.cutWhere(true);
  near(from(-1, 0.07, 0.03, 1, 0, 0)!, 1.1, 1e-6); // there it is cut
  assert.equal(from(-1, 0.07, 0.08, 1, 0, 0), null); // cut above the oil
  assert.equal(from(0.05, 0.07, 1, 0, 0, -1), null); // cut away
});

test("a letter stands over what the cut leaves of its compartment, and goes with the rest", () => {
  const pose = [[1, 0, 0, 2], [0, 1, 0, 0], [0, 0, 1, 0.3], [0, 0, 0, 1]]; // engine to car
  const { points } = box(0.4, 0.2, 0.1);
  const round = boxOf(points, pose);
  const whole = middleLeft(round, null)!;
  near(whole.x, 2.2);
  near(whole.y, 0.1);
  near(whole.z, 0.35);
  near(middleLeft(round, { axis: "x", at: 2.1, beyond: true })!.x, 2.05); // kept: 2.0 to 2.1
  near(middleLeft(round, { axis: "x", at: 2.1, beyond: false })!.x, 2.25);
  near(middleLeft(round, { axis: "x", at: 3, beyond: true })!.x, 2.2); // past all of it
  assert.equal(middleLeft(round, { axis: "x", at: 1.9, beyond: true }), null);
  assert.equal(middleLeft(round, { axis: "z", at: 0.41, beyond: false }), null);
});

test("what a person hid stays hidden when the pan is drawn anew, and what is new is as at first", () => {
  const before = new Set(["obstacle", "panel/rear wall"]);
  const now = hiddenAgain(["outside", "obstacle"], ["outside", "obstacle", "space", "ground"], before, new Set(["outside", "ground"]));
  assert.deepEqual([...now].sort(), ["ground", "obstacle", "panel/rear wall"]);
});
