// SPDX-License-Identifier: Apache-2.0
// The job's parts on the stage: built once of a scene, then shown, hidden, cut and coloured.

import {
  Box3,
  type BufferGeometry,
  Group,
  type LineSegments,
  Matrix4,
  Mesh,
  type Material,
  type MeshBasicMaterial,
  type Object3D,
  Plane,
  Vector3,
} from "three";
import type { Colour, Kind, Oil } from "./contract";
import { doorLeaf } from "./door";
import { groundGrid } from "./ground";
import { type Inks, type Ink } from "./inks";
import { OilBody } from "./oil";
import { type Drawn, gapPaint, linePaint, repaint, seeThrough, skinPaint } from "./paint";
import type { PanScene, ScenePart } from "./scene_file";
import { Section } from "./section";
import { ghost, linesOf, refill, ring, skinOf } from "./shape";
import { skinGeometry } from "./skin";

const INSIDE: readonly Kind[] = ["panel", "door", "cavity", "pickup", "solid"];
const SAMPLE = 1500; // points of a part that a view is fitted to

/** A part on the stage. */
export interface Shown {
  name: string;
  kind: Kind;
  part: ScenePart | null;
  group: Group;
  skin: Mesh | null;
  line: LineSegments | null;
  /** Its skin coloured by the gap; made when first wanted */
  fine: Mesh | null;
  /** Where the cut plane meets its skin */
  section: Section | null;
  /** Its skin again, seen through what stands before it */
  ghost: Mesh<BufferGeometry, MeshBasicMaterial> | null;
}

export class Model {
  readonly root = new Group();
  readonly shown: Shown[] = [];
  readonly oil: OilBody[] = [];
  readonly pose = new Matrix4();
  /** Keeps what lies on the side it points to. */
  readonly cut = new Plane(new Vector3(1, 0, 0), 0);
  cutting = false;
  private readonly engine = new Group();
  private readonly hidden = new Set<string>();
  private standing = false;

  constructor(
    readonly scene: PanScene,
    private inks: Inks,
    private colour: Colour,
  ) {
    this.pose.set(...(scene.pose.flat() as Parameters<Matrix4["set"]>));
    this.engine.applyMatrix4(this.pose);
    this.root.add(this.engine);
    for (const part of scene.parts) {
      if (part.kind === "compartment") this.addOil(part);
      else this.add(part);
    }
    if (scene.ground) this.addGround();
    this.root.updateMatrixWorld(true);
    this.paint(inks, colour);
  }

  private addOil(part: ScenePart): void {
    const oil = new OilBody(part, this.oil.length, this.pose, this.cut);
    this.oil.push(oil);
    this.engine.add(oil.group);
    this.root.add(oil.lids);
  }

  private add(part: ScenePart): void {
    const group = new Group();
    const skin = part.loops.length ? ring(part) : skinOf(part);
    const kind = part.kind as Drawn;
    if (skin) {
      skin.material = skinPaint(kind, this.inks, []);
      skin.renderOrder = seeThrough(kind) ? 200 : 0;
      group.add(skin);
    }
    const section = skin && part.triangles.length && kind !== "obstacle" ? new Section(part) : null;
    if (section) group.add(section.line);
    const twin = skin && kind === "pickup" ? ghost(skin) : null;
    if (twin) group.add(twin);
    const line = linesOf(part);
    if (line) {
      line.material = linePaint(kind, this.inks, []);
      line.renderOrder = seeThrough(kind) ? 201 : 1;
      group.add(line);
    }
    (part.frame === "car" ? this.root : this.engine).add(group);
    this.shown.push({ name: part.name, kind: part.kind, part, group, skin, line, fine: null, section, ghost: twin });
  }

  private addGround(): void {
    const line = groundGrid(this.bounds(() => true));
    const group = new Group();
    group.add(line);
    this.root.add(group);
    this.shown.push({ name: "ground", kind: "ground", part: null, group, skin: null, line, fine: null, section: null, ghost: null });
  }

  /** Colours anew: of another theme, or by another meaning. */
  paint(inks: Inks, colour: Colour): void {
    this.inks = inks;
    this.colour = colour;
    for (const one of this.shown) this.paintOne(one);
    this.oil.forEach((oil, k) => {
      const tint = inks[`tint-${(k % 8) + 1}` as Ink];
      oil.paint(inks, colour === "compartments" ? tint : null);
    });
    this.recut();
  }

  private paintOne(one: Shown): void {
    if (one.kind === "ground") {
      if (one.line) (one.line.material as MeshBasicMaterial).color = this.inks.muted;
      return;
    }
    const kind = one.kind as Drawn;
    if (one.line) repaint(one.line.material as Material, kind, "line", this.inks);
    if (!one.skin) return;
    if (one.section) one.section.line.material.color = this.inks.ink;
    if (one.ghost) {
      one.ghost.material.color = this.inks.ink;
      one.ghost.visible = this.colour !== "clearance";
    }
    (one.skin.material as Material).dispose();
    one.skin.material = skinPaint(kind, this.inks, []);
    const bands = this.colour === "clearance" && this.scene.gap;
    const fine = bands ? this.fineOf(one) : one.fine;
    one.skin.visible = !(bands && (fine || one.kind === "space")); // the bands are blue too
    if (!fine) return;
    fine.visible = Boolean(bands);
    if (!bands) return;
    (fine.material as Material).dispose();
    fine.material = gapPaint(bands.steps, this.inks, []);
  }

  /** Its finer skin, where it has one. */
  private fineOf(one: Shown): Mesh | null {
    if (!one.fine && one.part?.fine) {
      one.fine = new Mesh(skinGeometry(one.part.fine, one.part.fine));
      one.fine.visible = false;
      one.group.add(one.fine);
      one.fine.updateWorldMatrix(true, false);
    }
    return one.fine;
  }

  /** Names of what can be hidden: kinds, and `kind/name` for single parts. */
  hide(names: ReadonlySet<string>): void {
    this.hidden.clear();
    for (const name of names) this.hidden.add(name);
    this.reveal();
  }

  /** What is shown and can be seen: not what lies inside an outside that is painted solid. */
  private reveal(): void {
    const closed = this.colour === "clearance" && !this.cutting && !this.hidden.has("outside");
    const inside = closed && this.shown.some((one) => one.kind === "outside");
    for (const one of this.shown) one.group.visible = this.isShown(one) && !(inside && INSIDE.includes(one.kind));
    for (const oil of this.oil) oil.show(this.standing && oil.known && !inside && !this.hidden.has("compartment"));
  }

  isShown(one: { kind: Kind; name: string }): boolean {
    return !this.hidden.has(one.kind) && !this.hidden.has(`${one.kind}/${one.name}`);
  }

  stand(oil: Oil | null): void {
    this.standing = oil !== null;
    for (const body of this.oil) {
      const at = oil?.surfaces.find((s) => s.compartment === body.part.name);
      body.known = at !== undefined;
      if (!at) continue;
      const up = new Vector3(...at.up).normalize();
      if (at.frame === "engine") up.transformDirection(this.pose);
      const over = at.over && new Vector3(...at.over).normalize();
      body.stand(up, over ? body.along(up, at.height_m, over) : at.height_m);
    }
    this.reveal();
  }

  swing(angles: Readonly<Record<string, number>>): void {
    for (const one of this.shown) {
      const door = one.part?.door;
      if (!door || !one.skin) continue;
      const leaf = doorLeaf(door, Math.max(0, Math.min(door.stop, angles[one.name] ?? 0)));
      refill(one.skin, one.line, one.part as ScenePart, leaf);
    }
  }

  /** Cut everything, or nothing, at the plane as it now is. */
  recut(): void {
    const planes = this.cutting ? [this.cut] : [];
    for (const one of this.shown) {
      one.section?.lay(this.cutting ? this.cut : null, one.part?.frame === "car" ? null : this.pose);
      for (const drawn of [one.skin, one.fine, one.line, one.ghost]) {
        if (!drawn || one.kind === "ground") continue;
        (drawn.material as Material).clippingPlanes = planes;
      }
    }
    for (const oil of this.oil) oil.cutWhere(this.cutting);
    this.reveal();
  }

  /** Round what is shown, car frame. */
  bounds(which: (kind: Kind) => boolean = (kind) => kind !== "ground"): Box3 {
    const box = new Box3();
    this.root.updateMatrixWorld(true);
    for (const one of this.shown) {
      if (which(one.kind) && one.group.visible) box.expandByObject(one.group);
    }
    if (box.isEmpty()) for (const oil of this.oil) box.expandByObject(oil.group);
    return box;
  }

  /** Some points of everything shown, car frame, x, y, z in a row: enough to fit a view to. */
  sample(): Float32Array {
    const bodies = this.shown.filter((one) => one.group.visible && one.kind !== "ground" && one.part);
    const parts: { points: Float32Array; inCar: boolean }[] = bodies.map((one) => ({
      points: one.part!.points,
      inCar: one.part!.frame === "car",
    }));
    if (!parts.length) for (const oil of this.oil) parts.push({ points: oil.part.points, inCar: false });
    const found: number[] = [];
    const point = new Vector3();
    for (const { points, inCar } of parts) {
      const stride = 3 * Math.max(1, Math.floor(points.length / 3 / SAMPLE));
      for (let k = 0; k + 2 < points.length; k += stride) {
        point.fromArray(points, k);
        if (!inCar) point.applyMatrix4(this.pose);
        found.push(point.x, point.y, point.z);
      }
    }
    return new Float32Array(found);
  }

  /** What a pointer can meet. */
  solid(): Object3D[] {
    const met = this.shown.filter((one) => one.skin && one.group.visible && (one.skin.visible || one.fine?.visible));
    return met.map((one) => this.fineOf(one) ?? (one.skin as Mesh));
  }

  /** Whether what lies behind its skin is seen. */
  seenInto(one: Shown): boolean {
    return seeThrough(one.kind as Drawn) && !one.fine?.visible;
  }

  of(object: Object3D): Shown | null {
    return this.shown.find((one) => one.skin === object || one.fine === object) ?? null;
  }

  dispose(): void {
    for (const oil of this.oil) oil.dispose();
    for (const one of this.shown) {
      one.section?.dispose();
      for (const drawn of [one.skin, one.fine, one.line, one.ghost]) {
        drawn?.geometry.dispose();
        (drawn?.material as Material | undefined)?.dispose();
      }
    }
  }
}
