// SPDX-License-Identifier: Apache-2.0
// How parts are painted. The clearance colours have the steps and the stripes of the report.

import {
  Color,
  DoubleSide,
  FrontSide,
  LineBasicMaterial,
  type Material,
  MeshLambertMaterial,
  type Plane,
} from "three";
import type { Kind } from "./contract";
import type { Inks } from "./inks";

interface Look {
  ink: keyof Inks;
  opacity: number;
  both: boolean;
  /** Of its lines */
  line: keyof Inks;
}

const LOOKS: Record<Exclude<Kind, "compartment" | "ground">, Look> = {
  outside: { ink: "steel", opacity: 0.24, both: false, line: "new" },
  cavity: { ink: "steel", opacity: 0.24, both: false, line: "new" },
  stock: { ink: "stock", opacity: 0.2, both: false, line: "stock" },
  "stock-pickup": { ink: "stock", opacity: 1, both: true, line: "stock" },
  panel: { ink: "steel", opacity: 1, both: true, line: "ink" },
  door: { ink: "new", opacity: 1, both: true, line: "ink" },
  pickup: { ink: "ink", opacity: 1, both: true, line: "ink" },
  solid: { ink: "muted", opacity: 1, both: false, line: "ink" },
  obstacle: { ink: "obstacle", opacity: 1, both: true, line: "ink" },
  space: { ink: "free", opacity: 0.34, both: false, line: "free-line" },
  crank: { ink: "muted", opacity: 0.2, both: false, line: "muted" },
  dipstick: { ink: "ink", opacity: 1, both: true, line: "ink" },
};

export type Drawn = Exclude<Kind, "compartment" | "ground">;

export const seeThrough = (kind: Drawn): boolean => LOOKS[kind].opacity < 1;

export function skinPaint(kind: Drawn, inks: Inks, planes: Plane[]): MeshLambertMaterial {
  const look = LOOKS[kind];
  return new MeshLambertMaterial({
    color: inks[look.ink],
    side: look.both ? DoubleSide : FrontSide,
    transparent: look.opacity < 1,
    opacity: look.opacity,
    depthWrite: look.opacity === 1,
    clippingPlanes: planes,
    polygonOffset: true, // lines lie over their skin
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
  });
}

export function linePaint(kind: Drawn, inks: Inks, planes: Plane[]): LineBasicMaterial {
  return new LineBasicMaterial({
    color: inks[LOOKS[kind].line],
    transparent: true,
    opacity: seeThrough(kind) ? 0.55 : 0.8,
    clippingPlanes: planes,
  });
}

export function repaint(material: Material, kind: Drawn, part: "skin" | "line", inks: Inks): void {
  const coloured = material as MeshLambertMaterial | LineBasicMaterial;
  coloured.color = inks[part === "skin" ? LOOKS[kind].ink : LOOKS[kind].line];
}

export const oilBody = (inks: Inks, tint: Color | null): Color => (tint ?? inks.oil).clone();

/** The surface is paler than the body, in light and in dark. */
export const oilTop = (inks: Inks, tint: Color | null): Color =>
  oilBody(inks, tint).lerp(new Color("#ffffff"), 0.42);

const VERTEX = `
attribute float gap;
attribute float needed;
varying float vGap;
varying float vShort;
`;
const FRAGMENT = `
varying float vGap;
varying float vShort;
uniform float steps[4];
uniform vec3 bands[5];
uniform vec3 stripes[2];
uniform float stripe;
`;
const BANDED = `
vec3 banded = bands[0];
for (int k = 0; k < 4; k++) if (vGap >= steps[k]) banded = bands[k + 1];
if (vShort < 0.0) banded = fract((gl_FragCoord.x + gl_FragCoord.y) / stripe) < 0.5 ? stripes[0] : stripes[1];
diffuseColor.rgb = banded;
`;

/** Bands by how near the nearest obstacle is; stripes where it is nearer than asked for. */
export function gapPaint(steps: readonly number[], inks: Inks, planes: Plane[]): MeshLambertMaterial {
  const material = new MeshLambertMaterial({ side: FrontSide, clippingPlanes: planes });
  material.polygonOffset = true;
  material.polygonOffsetFactor = material.polygonOffsetUnits = 1;
  material.onBeforeCompile = (shader) => {
    shader.uniforms["steps"] = { value: steps };
    shader.uniforms["bands"] = { value: [1, 2, 3, 4, 5].map((k) => inks[`gap-${k}` as keyof Inks]) };
    shader.uniforms["stripes"] = { value: [inks.hazard, inks["hazard-ink"]] };
    shader.uniforms["stripe"] = { value: 14 * Math.min(devicePixelRatio, 2) };
    shader.vertexShader = VERTEX + shader.vertexShader.replace(
      "#include <begin_vertex>",
      "#include <begin_vertex>\nvGap = gap; vShort = gap - needed;",
    );
    shader.fragmentShader = FRAGMENT + shader.fragmentShader.replace("#include <color_fragment>", `#include <color_fragment>${BANDED}`);
  };
  return material;
}
