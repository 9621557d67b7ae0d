// SPDX-License-Identifier: Apache-2.0
// Reads the server's scene: a JSON header and the arrays it points to.

import type { Kind, Triple } from "./contract";

export interface DoorSaid {
  hinge: [Triple, Triple];
  /** From the hinge to the free edge */
  reach: Triple;
  /** Square to the panel, to the side it opens to */
  swing: Triple;
  length: number;
  stop: number;
  ends: [string, string] | null;
}

export interface Colours {
  points: Float32Array;
  triangles: Uint32Array;
  /** Room to the nearest obstacle, and what is asked for there, point by point */
  gap: Float32Array;
  needed: Float32Array;
}

export interface ScenePart {
  name: string;
  kind: Kind;
  frame: "engine" | "car";
  points: Float32Array;
  triangles: Uint32Array;
  edges: Uint32Array;
  loops: Uint32Array[];
  /** Its skin again, fine enough to be coloured by the gap */
  fine: Colours | null;
  door: DoorSaid | null;
  where: string;
  /** Whether the pickup draws from this compartment */
  pickup: boolean;
  /** Of a free space: depth from one of its level lines to the next */
  lines: number | null;
}

export interface PanScene {
  of: string;
  parts: ScenePart[];
  /** 4 x 4, row by row: engine to car */
  pose: number[][];
  ground: boolean;
  gap: { steps: number[]; says: string; asked: boolean } | null;
}

interface Place {
  at: number;
  count: number;
}

type Said = Record<string, unknown>;

const place = (said: Said, key: string): Place | null => (said[key] as Place | undefined) ?? null;

function fineOf(
  said: Record<keyof Colours, Place> | undefined,
  floats: (p: Place) => Float32Array,
  numbers: (p: Place) => Uint32Array,
): Colours | null {
  if (!said) return null;
  return {
    points: floats(said.points),
    triangles: numbers(said.triangles),
    gap: floats(said.gap),
    needed: floats(said.needed),
  };
}

function partOf(said: Said, bytes: ArrayBuffer, start: number): ScenePart {
  const floats = (p: Place) => new Float32Array(bytes, start + p.at, p.count);
  const numbers = (p: Place) => new Uint32Array(bytes, start + p.at, p.count);
  const none: Place = { at: 0, count: 0 };
  return {
    name: said["name"] as string,
    kind: said["kind"] as Kind,
    frame: said["frame"] as "engine" | "car",
    points: floats(place(said, "points") ?? none),
    triangles: numbers(place(said, "triangles") ?? none),
    edges: numbers(place(said, "edges") ?? none),
    loops: ((said["loops"] as Place[] | undefined) ?? []).map(numbers),
    fine: fineOf(said["fine"] as Record<keyof Colours, Place> | undefined, floats, numbers),
    door: (said["door"] as DoorSaid | undefined) ?? null,
    where: (said["where"] as string | undefined) ?? "",
    pickup: said["pickup"] === true,
    lines: (said["lines"] as number | undefined) ?? null,
  };
}

/** The scene in `bytes`; throws where they are something else. */
export function sceneOf(bytes: ArrayBuffer): PanScene {
  const magic = String.fromCharCode(...new Uint8Array(bytes, 0, 4));
  if (magic !== "SPS1") throw new Error("the picture's file is not one this page can read");
  const size = new DataView(bytes).getUint32(4, true);
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(bytes, 8, size))) as Said;
  const parts = (head["parts"] as Said[]).map((said) => partOf(said, bytes, 8 + size));
  return {
    of: head["of"] as string,
    parts,
    pose: head["pose"] as number[][],
    ground: head["ground"] === true,
    gap: head["gap"] as PanScene["gap"],
  };
}
