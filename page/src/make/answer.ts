// SPDX-License-Identifier: Apache-2.0
// What housing, halves, sheets, prints and make answer, as far as the sheet shows it; SI.

import type { Finding } from "../shape/Study";

type Place = [number, number, number];

export interface Part {
  key: string;
  name: string;
  how: string;
  count: number;
  material: string;
  mass: number | null;
  stock: string;
  note: string;
}

export interface HousingAnswer {
  verdict: string;
  over_floor_m: number | null;
  height_m: number;
  low_profile: number;
  face_m2: number;
  open_m2: number;
  tube_m2: number;
  curtain_m2: number | null;
  inside_m2: number;
  displaced_m3: number;
  low_cover_m: number | null;
  screen: { state: string; temperature_k: number; rpm: number; loss_pa: number }[];
  bolting: { thread: string; count: number; length_m: number; engagement_m: number; ratio: number } | null;
  room: { what: string; gap_m: number | null; shared_m3: number }[];
  findings: Finding[];
  made: Part[];
}

export interface Half {
  name: string;
  mass_kg: number;
  chips_kg: number;
  stock: { block: string | null; block_m: Place | null; shared: boolean; buy_m: Place | null; mass_in_kg: number };
  machine: { needed_m: Place; has_m: Place; turned: boolean; fits: boolean };
  reach: {
    missed_m2: number;
    cutters: { name: string; reached_m2: number; missed_m2: number }[];
    places: { cause: string; area_m2: number; at_m: Place }[];
  };
  milling_s: number | null;
  cost: number | null;
}

export interface Joint {
  weld_m: number;
  wall_least_m: number;
  groove_depth_m: number;
  groove_angle: number;
  root_face_m: number;
  lip_height_m: number | null;
  lip_thickness_m: number | null;
  lip_clearance_m: number | null;
  deposit_kg: number;
  cone: number;
  cone_needed: number;
  tight_m: number;
  oil_over_m: number | null;
  draw_m: [number, number];
  skim_m: number;
  welding_s: number | null;
  welding_cost: number | null;
}

export interface Candidate {
  height_m: number;
  ring: boolean;
  machine: boolean;
  missed_m2: number;
  bought: number;
  weld_m: number;
  cone: number;
  mass_in_kg: number;
  chosen: boolean;
}

export interface HalvesAnswer {
  verdict: string;
  lacks: string[];
  advice: string[];
  height_m: number;
  proposed: boolean;
  why: string;
  candidates: Candidate[];
  upper: Half;
  lower: Half;
  joint: Joint;
  sealing: string[];
  cautions: string[];
  assumptions: string[];
  findings: Finding[];
  currency: string;
}

export interface SheetPart {
  key: string;
  name: string;
  kind: string;
  material: string;
  thickness_m: number;
  mass_kg: number;
  size_m: [number, number];
  bends: unknown[];
  cost: number | null;
  warnings: Finding[];
}

export interface SheetsAnswer {
  verdict: string;
  currency: string;
  parts: SheetPart[];
  pins: { name: string; diameter: number; length: number }[];
  sheets: { key: string; stock: string; laid: unknown[]; used: number; price: number | null }[];
  strips: { material: string; thickness: number; k: number; table: number }[];
  findings: Finding[];
}

export interface PrintsAnswer {
  printer: string;
  scale: number;
  how: string;
  pieces: {
    key: string;
    of: string;
    count: number;
    lies_on: string;
    size_m: Place;
    mass_kg: number;
    cost: number | null;
  }[];
  joints: { pieces: [string, string]; kind: string; keys: number; diameter_m: number | null }[];
  mass_kg: number;
  cost: number | null;
  currency: string;
  findings: Finding[];
}

export interface PackAnswer {
  revision: string;
  verdict: string;
  made: string;
  against: string[];
  not_made: { what: string; why: string; key: string }[];
  warnings: string[];
  files: { path: string; size: number; sha256: string }[];
}
