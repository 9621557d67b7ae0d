// SPDX-License-Identifier: Apache-2.0
// What other sheets say to the 3D view. Heights are metres along `up` from the engine frame's origin.

import type { ReadonlySignal, Signal } from "@preact/signals";
import type { ScenePart } from "./scene_file";

export type Triple = readonly [number, number, number];

export interface OilSurface {
  compartment: string;
  height_m: number;
  /** Unit vector against what the oil feels, in `frame` */
  up: Triple;
  /** Frame of `up`: the car's where left out; a drive's `tilt` is in the engine's */
  frame?: "car" | "engine";
  /** Where the height is not along `up` but over the compartment's middle, as a drive says it: the
      direction it is along, in the car's frame, against effective gravity */
  over?: Triple;
}

export interface Oil {
  surfaces: readonly OilSurface[];
}

export type Colour = "plain" | "clearance" | "compartments";

/** Kinds of parts, as the server names them. */
export type Kind =
  | "outside"
  | "cavity"
  | "stock"
  | "stock-pickup"
  | "compartment"
  | "panel"
  | "door"
  | "pickup"
  | "solid"
  | "obstacle"
  | "space"
  | "crank"
  | "dipstick"
  | "ground";

export interface PanViewProps {
  of: "pan" | "motion";
  oil?: Signal<Oil | null>;
  /** Opening angles of the doors by name; 0 is shut */
  doors?: Signal<Readonly<Record<string, number>>>;
  colour?: Colour;
  /** Kinds shown at first; a usual choice where left out */
  show?: readonly Kind[];
  /** More to be drawn with it, such as the free space */
  more?: ReadonlySignal<readonly ScenePart[]>;
  /** Of the view, read aloud */
  label?: string;
}
