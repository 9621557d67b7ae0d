// SPDX-License-Identifier: Apache-2.0
// The oil of one compartment: its body cut by the surface's plane, the cut closed, its line drawn.
//
// What of a plane lies inside a closed body is found by counting, pixel by pixel, how often a line of
// sight meets what is left of the body beyond the plane: an odd number of times where it starts from
// the inside (the stencil keeps count). A flat sheet in the plane is then drawn where it is odd.

import {
  AlwaysStencilFunc,
  Box3,
  type BufferGeometry,
  type Color,
  DoubleSide,
  FrontSide,
  Group,
  InvertStencilOp,
  LineBasicMaterial,
  LineSegments,
  Matrix4,
  Mesh,
  MeshBasicMaterial,
  MeshLambertMaterial,
  NotEqualStencilFunc,
  Plane,
  PlaneGeometry,
  type Raycaster,
  ReplaceStencilOp,
  Vector3,
  type WebGLRenderer,
} from "three";
import { oilBody, oilTop } from "./paint";
import type { Inks } from "./inks";
import type { ScenePart } from "./scene_file";
import { bareGeometry, skinGeometry } from "./skin";
import { Waterline } from "./waterline";

const BODY_ORDER = 10;
const COUNT_ORDER = 20;
const SAME = 1e-7; // m; two faces are met at one place

function counting(plane: Plane): MeshBasicMaterial {
  const material = new MeshBasicMaterial({ side: DoubleSide, colorWrite: false, depthWrite: false, depthTest: false });
  material.transparent = true; // drawn after what is solid, as the sheet is
  material.forceSinglePass = true;
  material.stencilWrite = true;
  material.stencilFunc = AlwaysStencilFunc;
  material.stencilFail = material.stencilZFail = material.stencilZPass = InvertStencilOp;
  material.clippingPlanes = [plane];
  return material;
}

function closing(others: Plane[]): MeshBasicMaterial {
  const material = new MeshBasicMaterial({ side: DoubleSide, transparent: true, clippingPlanes: others });
  material.forceSinglePass = true;
  material.stencilWrite = true;
  material.stencilRef = 0;
  material.stencilFunc = NotEqualStencilFunc;
  material.stencilFail = material.stencilZFail = material.stencilZPass = ReplaceStencilOp;
  return material;
}

/** A sheet that closes a body where a plane cuts it. */
class Lid {
  readonly count: Mesh<BufferGeometry, MeshBasicMaterial>;
  readonly sheet: Mesh<PlaneGeometry, MeshBasicMaterial>;
  private readonly normal = new Vector3();

  constructor(
    body: BufferGeometry,
    private readonly plane: Plane,
    others: Plane[],
    order: number,
  ) {
    this.count = new Mesh(body, counting(plane));
    this.sheet = new Mesh(new PlaneGeometry(1, 1), closing(others));
    this.count.renderOrder = order;
    this.sheet.renderOrder = order + 0.5;
    this.sheet.onAfterRender = (renderer: WebGLRenderer) => renderer.clearStencil();
  }

  /** Lay the sheet into its plane, over a body with its middle there and of that reach. */
  lay(middle: Vector3, reach: number): void {
    this.plane.projectPoint(middle, this.sheet.position);
    this.normal.copy(this.sheet.position).add(this.plane.normal);
    this.sheet.lookAt(this.normal);
    this.sheet.scale.setScalar(2.2 * reach);
  }

  show(is: boolean): void {
    this.count.visible = this.sheet.visible = is;
  }

  dispose(): void {
    this.count.material.dispose();
    this.sheet.geometry.dispose();
    this.sheet.material.dispose();
  }
}

/** One compartment. Planes are in the car's frame; the body's points are in the engine's. */
export class OilBody {
  readonly group = new Group();
  /** Whether anybody said where its surface stands */
  known = false;
  /** Goes into the car's frame. */
  readonly lids = new Group();
  private readonly plane = new Plane(new Vector3(0, 0, -1), -1e3);
  private readonly geometry: BufferGeometry;
  private readonly bare: BufferGeometry;
  private readonly body: Mesh<BufferGeometry, MeshLambertMaterial>;
  private readonly top: Lid;
  private readonly side: Lid;
  private readonly line: LineSegments<BufferGeometry, LineBasicMaterial>;
  private readonly water: Waterline;
  private readonly middle = new Vector3();
  /** Of the box round it in the engine's frame: where a drive counts its heights */
  private readonly centre = new Vector3();
  private reach = 0;
  private cutting = false;

  constructor(
    readonly part: ScenePart,
    number: number,
    private readonly pose: Matrix4,
    private readonly cut: Plane,
    private readonly back: Matrix4 = pose.clone().invert(),
  ) {
    this.geometry = skinGeometry(part);
    this.bare = bareGeometry(part);
    this.geometry.computeBoundingSphere();
    new Box3().setFromArray(part.points as unknown as number[]).getCenter(this.centre).applyMatrix4(pose);
    const sphere = this.geometry.boundingSphere;
    if (sphere) {
      this.middle.copy(sphere.center).applyMatrix4(pose);
      this.reach = sphere.radius;
    }
    this.body = new Mesh(this.geometry, new MeshLambertMaterial({ side: FrontSide, transparent: true, opacity: 0.86 }));
    this.body.renderOrder = BODY_ORDER;
    this.top = new Lid(this.bare, this.plane, [], COUNT_ORDER + 2 * number);
    this.side = new Lid(this.bare, cut, [this.plane], COUNT_ORDER + 2 * number + 1);
    this.water = new Waterline(part.points, part.triangles);
    this.line = new LineSegments(this.water.geometry, new LineBasicMaterial());
    this.line.renderOrder = COUNT_ORDER + 100;
    this.group.add(this.body, this.top.count, this.side.count, this.line);
    this.lids.add(this.top.sheet, this.side.sheet);
    this.cutWhere(false);
    this.show(false);
  }

  /** Where its surface stands: `up` in the car's frame, height from the engine frame's origin. */
  stand(up: Vector3, height: number): void {
    const origin = new Vector3().setFromMatrixPosition(this.pose);
    this.plane.normal.copy(up).negate();
    this.plane.constant = height + up.dot(origin);
    this.top.lay(this.middle, this.reach);
    const turned = up.clone().transformDirection(this.back);
    this.water.stand(turned, height);
  }

  /**
   * Height along `up` of a surface that stands `height` along `over`, above the body's middle. Both
   * directions in the car's frame, both heights from the engine frame's origin.
   */
  along(up: Vector3, height: number, over: Vector3): number {
    const origin = new Vector3().setFromMatrixPosition(this.pose);
    const middle = this.centre.clone().sub(origin);
    return up.dot(middle) + (height - over.dot(middle)) * over.dot(up);
  }

  /** Whether the cut plane is in use, and laid anew. */
  cutWhere(is: boolean): void {
    this.cutting = is;
    const cuts = is ? [this.cut] : [];
    this.body.material.clippingPlanes = [this.plane, ...cuts];
    this.top.sheet.material.clippingPlanes = cuts;
    this.line.material.clippingPlanes = cuts;
    if (is) this.side.lay(this.middle, this.reach);
    this.side.show(is && this.body.visible);
  }

  /** How far along a ray the oil begins that is looked at: at its surface, or where it is cut; null: nowhere. */
  meet(ray: Raycaster): number | null {
    if (!this.body.visible) return null;
    const hits = ray.intersectObject(this.top.count, false).map((hit) => hit.distance);
    const walls = hits.filter((at, k) => k === 0 || at - hits[k - 1]! > SAME); // an edge is of two faces
    const isIn = (at: number) => walls.filter((wall) => wall > at).length % 2 === 1;
    const found: number[] = [];
    const look = (plane: Plane, other: Plane | null) => {
      const at = ray.ray.distanceToPlane(plane);
      if (at === null || !isIn(at)) return;
      if (!other || other.distanceToPoint(ray.ray.at(at, new Vector3())) >= 0) found.push(at);
    };
    look(this.plane, this.cutting ? this.cut : null);
    if (this.cutting) look(this.cut, this.plane);
    return found.length ? Math.min(...found) : null;
  }

  show(is: boolean): void {
    this.body.visible = this.line.visible = is;
    this.top.show(is);
    this.side.show(is && this.cutting);
  }

  paint(inks: Inks, tint: Color | null): void {
    this.body.material.color = oilBody(inks, tint);
    this.top.sheet.material.color = oilTop(inks, tint);
    this.side.sheet.material.color = oilBody(inks, tint);
    this.line.material.color = inks["oil-line"];
  }

  dispose(): void {
    this.geometry.dispose();
    this.bare.dispose();
    this.body.material.dispose();
    this.top.dispose();
    this.side.dispose();
    this.water.geometry.dispose();
    this.line.material.dispose();
  }
}
