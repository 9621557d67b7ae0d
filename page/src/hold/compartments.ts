// SPDX-License-Identifier: Apache-2.0
// The compartments that the baffles make, and the ways between them, in the words of the command.

import { shownNumber, unitName } from "../shown";

export interface Way {
  to: string;
  panel: string;
  opening: string;
  kind: "door" | "window" | "open" | "gap" | "leak";
  area_m2: number;
  passes: "both ways" | "out" | "in";
}

export interface Compartment {
  name: string;
  where: string;
  volume_m3: number;
  at_rest_m3: number | null;
  has_pickup: boolean;
  ways: Way[];
}

export interface CompartmentsAnswer {
  compartments: Compartment[];
  panel_m3: number;
  displaced_m3: number;
  findings: { code: string; place: string; found: string; repair: string }[];
}

const PASSES = { "both ways": "to and from", out: "out to", in: "in from" } as const;
const ORDER = { door: 0, window: 1, open: 2, gap: 3, leak: 4 } as const;
const WORDS: Partial<Record<Way["kind"], string>> = { open: "open past the edge", gap: "gap at the edge", leak: "leak round the shut" };
const MOST_NAMED = 2;

export const whereWords = (part: Compartment): string =>
  [part.where, part.has_pickup ? "pickup" : ""].filter(Boolean).join(", ") || "middle";

/** Two digits: gaps are narrow. */
function areaText(square: number): string {
  const number = shownNumber(square, "area");
  return `${number < 99.5 ? Number(number.toPrecision(2)) : number.toFixed(0)} ${unitName("area")}`;
}

function what(kind: Way["kind"], ways: readonly Way[]): string {
  const names = ways.map((way) => `'${way.opening}'`);
  const word = WORDS[kind];
  if (word) return [word, ...(kind === "leak" ? names : [])].join(" ");
  if (ways.length > MOST_NAMED) return `${ways.length} ${kind}s from ${names[0]} to ${names.at(-1)}`;
  return `${kind}${ways.length > 1 ? "s" : ""} ${names.join(" and ")}`;
}

const compared = (a: string, b: string): number => a.localeCompare(b, "en", { numeric: true });

/** One line for all openings of a kind through one baffle into one compartment; doors first, then windows. */
export function wayLines(part: Compartment): string[] {
  const sorted = [...part.ways].sort(
    (a, b) =>
      compared(a.to, b.to) || ORDER[a.kind] - ORDER[b.kind] || compared(a.panel, b.panel) || compared(a.opening, b.opening),
  );
  const groups = new Map<string, Way[]>();
  for (const way of sorted) {
    const key = [way.to, way.kind, way.panel, way.passes].join("\n");
    groups.set(key, [...(groups.get(key) ?? []), way]);
  }
  return [...groups.values()].map((ways) => {
    const { to, kind, panel, passes } = ways[0]!;
    const area = areaText(ways.reduce((sum, way) => sum + way.area_m2, 0));
    return `${PASSES[passes]} ${to}: ${what(kind, ways)} of ${panel}, ${area}`;
  });
}
