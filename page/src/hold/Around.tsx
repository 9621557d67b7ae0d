// SPDX-License-Identifier: Apache-2.0
// The static limit all round: new pan over stock, what is asked for, what was driven.

import { useMemo } from "preact/hooks";
import { asIs, Polar, type RoundCurve, type RoundSpot } from "../chart";
import { entries } from "../shell/standing";
import type { PanHold } from "./answer";

const G = asIs("g", 2);
const WAYS: Record<string, number> = { accelerate: 0, left: 90, brake: 180, right: 270 };

export function Around({ hold }: { hold: PanHold }) {
  const curves = useMemo(() => curvesOf(hold), [hold]);
  const end = Math.max(...hold.magnitudes_g);
  const held = hold.held_to_end.some(Boolean);
  return (
    <>
      <Polar
        title="Pickup uncovers at, steady"
        yIn={G}
        end={end}
        curves={curves}
        fences={linesOf("hold_", "limit", "asked for: the line must lie outside")}
        spots={linesOf("proof_", "value", "driven, and held")}
      />
      {held && <p class="quiet">Where a line meets the outer ring it was still covered at {end.toFixed(2)} g, the most looked at.</p>}
    </>
  );
}

function curvesOf(hold: PanHold): RoundCurve[] {
  const directions = hold.directions_deg;
  const curves: RoundCurve[] = [
    { name: hold.name, directions, values: hold.limit_g, look: { ink: "--new", width: 3 }, fill: true },
  ];
  const { stock } = hold;
  if (stock) {
    const look = { ink: "--stock", dash: [8, 5] };
    curves.push({ name: stock.name, directions: stock.directions_deg, values: stock.limit_g, look });
  }
  return curves;
}

/** Ledger lines of the four ways, such as `hold_left`. */
function linesOf(stem: string, part: "limit" | "value", words: string): RoundSpot[] {
  return Object.entries(WAYS).flatMap(([way, direction]) => {
    const at = entries.value.find(({ line }) => line.id === stem + way)?.line[part];
    return at == null || at <= 0 ? [] : [{ direction, at, words }];
  });
}
