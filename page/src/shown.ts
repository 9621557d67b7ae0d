// SPDX-License-Identifier: Apache-2.0
// SI numbers as the person reads them. Factors and decimals are the server's: units.py knows them.

import { units, system } from "./state";
import type { UnitRow } from "./protocol";

const PLAIN: UnitRow = ["", 1, 0, 2];

export const unitRow = (kind: string): UnitRow => units.value[system.value]?.[kind] ?? PLAIN;

export const unitName = (kind: string): string => unitRow(kind)[0];

/** `value` of `kind` in the unit that the job shows it in. */
export function shownNumber(value: number, kind: string): number {
  const [, factor, offset] = unitRow(kind);
  return value * factor + offset;
}

/** The SI value of what is shown. */
export function fromShown(number: number, kind: string): number {
  const [, factor, offset] = unitRow(kind);
  return (number - offset) / factor;
}

/** `4.52 L`, `1.30 g`, `−12.5 mm`; a dash where there is nothing to say. */
export function shown(value: number | null | undefined, kind: string, sign = false): string {
  if (value == null || !Number.isFinite(value)) return "–";
  const [unit, , , decimals] = unitRow(kind);
  const number = shownNumber(value, kind);
  let text = number.toFixed(decimals);
  if (Number(text) === 0) text = text.replace("-", "");
  if (sign && Number(text) > 0) text = `+${text}`;
  const joint = unit === "°" || unit === "" ? "" : "\u00a0";
  return `${text}${joint}${unit}`.replace("-", "−");
}

/** Kinds whose ledger numbers are already in what is shown: g and degrees. */
const AS_IS: Record<string, string> = { g: "acceleration", deg: "angle" };

/** A ledger number: its `unit` says what it is in. */
export function shownLedger(
  value: number | null,
  line: { unit: string; kind: string },
  sign = false,
): string {
  if (value == null) return "–";
  const kind = AS_IS[line.unit];
  return shown(kind ? fromShown(value, kind) : value, line.kind, sign);
}

/** How long something is that may be a pan, or a street: from a metre on in metres, as nobody says 350000 mm. */
export const spanText = (metres: number): string =>
  Math.abs(metres) < 1 ? shown(metres, "length") : `${metres.toLocaleString("en", { maximumSignificantDigits: 3 })}\u00a0m`;
