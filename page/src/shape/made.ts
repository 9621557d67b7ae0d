// SPDX-License-Identifier: Apache-2.0
// Sizes of things to be made, as a shop says them: finer lengths and heavier masses than oil needs.

import { shown, shownNumber, unitName } from "../shown";
import { system } from "../state";

const POUND = 0.45359237; // by definition

/** A length with hundredths of a millimetre, such as a residual. */
export function fine(metres: number | null | undefined, sign = false): string {
  if (metres == null) return "–";
  const number = shownNumber(metres, "length").toFixed(system.value === "metric" ? 2 : 4);
  const text = Number(number) === 0 ? number.replace("-", "") : number.replace("-", "−");
  return `${sign && Number(number) > 0 ? "+" : ""}${text}\u00a0${unitName("length")}`;
}

/** A length in whole millimetres, such as a block's side. */
export const whole = (metres: number): string =>
  shownNumber(metres, "length").toFixed(system.value === "metric" ? 0 : 2).replace("-", "−");

/** `450 × 350 × 40 mm` */
export const size = (sides: readonly number[]): string => `${sides.map(whole).join(" × ")}\u00a0${unitName("length")}`;

export function mass(kg: number | null | undefined): string {
  if (kg == null) return "–";
  const [number, unit] = system.value === "metric" ? [kg, "kg"] : [kg / POUND, "lb"];
  return number < 1 ? shown(kg, "mass") : `${number.toFixed(number < 10 ? 2 : 1)}\u00a0${unit}`;
}

/** An area with a tenth of a square centimetre. */
export const area = (square: number): string =>
  `${shownNumber(square, "area").toFixed(system.value === "metric" ? 1 : 2)}\u00a0${unitName("area")}`;

export const money = (much: number | null | undefined, currency: string): string =>
  much == null ? "–" : `${much.toFixed(2)}\u00a0${currency}`;

export const degrees = (radians: number): string => `${((180 / Math.PI) * radians).toFixed(0)}°`;

export const hours = (seconds: number | null): string => (seconds == null ? "–" : `${(seconds / 3600).toFixed(1)} h`);
