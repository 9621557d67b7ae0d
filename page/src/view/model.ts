// SPDX-License-Identifier: Apache-2.0
// The job's parts on the stage: built once of a scene, then shown, hidden, cut and coloured.

import {
  Box3,
  BufferAttribute,
  BufferGeometry,
  CatmullRomCurve3,
  Group,
  LineSegments,
  Matrix4,
  Mesh,
  type Material,
  MeshBasicMaterial,
  type Object3D,
  Plane,
  TubeGeometry,
  Vector3,
} from "three";
import type { Colour, Kind, Oil } from "./contract";
import { doorLeaf } from "./door";
import { groundGrid } from "./ground";
import { type Inks, type Ink } from "./inks";
import { byCorner, corners, lineEnds } from "./normals";
import { OilBody } from "./oil";
import { type Drawn, gapPaint, linePaint, repaint, seeThrough, skinPaint } from "./paint";
import type { PanScene, ScenePart } from "./scene_file";

const RING = 0.0018; // m, half the thickness a pickup's rim is drawn with

/** A part on the stage. */
export interface Shown {
  name: string;
  kind: Kind;
  part: ScenePart | null;
  group: Group;
  skin: Mesh | null;
  line: LineSegments | null;
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
  private banded: Material | null = null;
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
    const twin = skin && kind === "pickup" ? ghost(skin) : null;
    if (twin) group.add(twin);
    const line = linesOf(part);
    if (line) {
      line.material = linePaint(kind, this.inks, []);
      line.renderOrder = seeThrough(kind) ? 201 : 1;
      group.add(line);
    }
    (part.frame === "car" ? this.root : this.engine).add(group);
    this.shown.push({ name: part.name, kind: part.kind, part, group, skin, line, ghost: twin });
  }

  private addGround(): void {
    const line = groundGrid(this.bounds(() => true));
    const group = new Group();
    group.add(line);
    this.root.add(group);
    this.shown.push({ name: "ground", kind: "ground", part: null, group, skin: null, line, ghost: null });
  }

  /** Colours anew: of another theme, or by another meaning. */
  paint(inks: Inks, colour: Colour): void {
    this.inks = inks;
    this.colour = colour;
    this.banded?.dispose();
    this.banded = null;
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
    if (one.ghost) one.ghost.material.color = this.inks.ink;
    const bands = this.colour === "clearance" && kind === "outside" && one.part?.gap && this.scene.gap;
    (one.skin.material as Material).dispose();
    one.skin.material = bands ? gapPaint(bands.steps, this.inks, []) : skinPaint(kind, this.inks, []);
    if (bands) this.banded = one.skin.material;
    one.skin.renderOrder = seeThrough(kind) && !bands ? 200 : 0;
  }

  /** Names of what can be hidden: kinds, and `kind/name` for single parts. */
  hide(names: ReadonlySet<string>): void {
    this.hidden.clear();
    for (const name of names) this.hidden.add(name);
    for (const one of this.shown) one.group.visible = this.isShown(one);
    for (const oil of this.oil) oil.show(this.standing && !this.hidden.has("compartment"));
  }

  isShown(one: { kind: Kind; name: string }): boolean {
    return !this.hidden.has(one.kind) && !this.hidden.has(`${one.kind}/${one.name}`);
  }

  stand(oil: Oil | null): void {
    this.standing = oil !== null;
    for (const body of this.oil) {
      const at = oil?.surfaces.find((s) => s.compartment === body.part.name);
      if (!at) {
        body.show(false);
        continue;
      }
      const up = new Vector3(...at.up).normalize();
      if (at.frame === "engine") up.transformDirection(this.pose);
      body.stand(up, at.height_m);
      if (this.hidden.has("compartment")) body.show(false);
    }
  }

  swing(angles: Readonly<Record<string, number>>): void {
    for (const one of this.shown) {
      const door = one.part?.door;
      if (!door || !one.skin) continue;
      const leaf = doorLeaf(door, Math.max(0, Math.min(door.stop, angles[one.name] ?? 0)));
      refill(one, leaf);
    }
  }

  /** Cut everything, or nothing, at the plane as it now is. */
  recut(): void {
    const planes = this.cutting ? [this.cut] : [];
    for (const one of this.shown) {
      for (const drawn of [one.skin, one.line, one.ghost]) {
        if (!drawn || one.kind === "ground") continue;
        (drawn.material as Material).clippingPlanes = planes;
      }
    }
    for (const oil of this.oil) oil.cutWhere(this.cutting);
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

  /** What a pointer can meet. */
  solid(): Object3D[] {
    const met = this.shown.filter((one) => one.skin && one.group.visible);
    return met.map((one) => one.skin as Mesh);
  }

  of(object: Object3D): Shown | null {
    return this.shown.find((one) => one.skin === object) ?? null;
  }

  dispose(): void {
    for (const oil of this.oil) oil.dispose();
    for (const one of this.shown) {
      for (const drawn of [one.skin, one.line, one.ghost]) {
        drawn?.geometry.dispose();
        (drawn?.material as Material | undefined)?.dispose();
      }
    }
  }
}

function skinOf(part: ScenePart): Mesh | null {
  if (!part.triangles.length) return null;
  const geometry = new BufferGeometry();
  const { position, normal } = corners(part.points, part.triangles);
  geometry.setAttribute("position", new BufferAttribute(position, 3));
  geometry.setAttribute("normal", new BufferAttribute(normal, 3));
  if (part.gap && part.needed) {
    geometry.setAttribute("gap", new BufferAttribute(byCorner(part.gap, part.triangles), 1));
    geometry.setAttribute("needed", new BufferAttribute(byCorner(part.needed, part.triangles), 1));
  }
  return new Mesh(geometry);
}

function linesOf(part: ScenePart): LineSegments | null {
  if (!part.edges.length) return null;
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(lineEnds(part.points, part.edges), 3));
  return new LineSegments(geometry);
}

/** A round bar along the part's loop. */
function ring(part: ScenePart): Mesh | null {
  const loop = part.loops[0];
  if (!loop || loop.length < 2) return null;
  const points = [...loop].map((k) => new Vector3().fromArray(part.points, 3 * k));
  const closed = part.kind !== "dipstick";
  const curve = new CatmullRomCurve3(points, closed, "catmullrom", closed ? 0.1 : 0.5);
  return new Mesh(new TubeGeometry(curve, closed ? 2 * points.length : 2, RING, 8, closed));
}

function ghost(skin: Mesh): Mesh<BufferGeometry, MeshBasicMaterial> {
  const paint = new MeshBasicMaterial({ transparent: true, opacity: 0.45, depthTest: false, depthWrite: false });
  const twin = new Mesh(skin.geometry, paint);
  twin.renderOrder = 300;
  return twin;
}

function refill(one: Shown, leaf: Float32Array): void {
  const part = one.part as ScenePart;
  const { position, normal } = corners(leaf, part.triangles);
  for (const [key, values] of [["position", position], ["normal", normal]] as const) {
    const attribute = one.skin?.geometry.getAttribute(key) as BufferAttribute;
    (attribute.array as Float32Array).set(values);
    attribute.needsUpdate = true;
  }
  const ends = one.line?.geometry.getAttribute("position") as BufferAttribute | undefined;
  if (!ends) return;
  (ends.array as Float32Array).set(lineEnds(leaf, part.edges));
  ends.needsUpdate = true;
}
