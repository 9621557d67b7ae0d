// SPDX-License-Identifier: Apache-2.0
// What the numbers of an axis are: a kind of the server's table of units, or as they stand.

import { shown, shownNumber, unitName, unitRow } from "../shown";

/** A kind (`length`: SI in, shown in the job's unit), or numbers that are shown as they stand. */
export type Unit = string | { name: string; decimals: number };

export const asIs = (name: string, decimals: number): Unit => ({ name, decimals });

export const nameOf = (unit: Unit): string =>
  typeof unit === "string" ? unitName(unit) : unit.name;

export const numberIn = (value: number, unit: Unit): number =>
  typeof unit === "string" ? shownNumber(value, unit) : value;

const decimalsOf = (unit: Unit): number =>
  typeof unit === "string" ? unitRow(unit)[3] : unit.decimals;

/** `4.52 L`, from the number as it stands in the data. */
export function saidIn(value: number | null | undefined, unit: Unit): string {
  if (value == null || !Number.isFinite(value)) return "–";
  if (typeof unit === "string") return shown(value, unit);
  return saidShown(value, unit);
}

/** The same from a number that is already in the unit shown. */
export function saidShown(number: number | null | undefined, unit: Unit): string {
  if (number == null || !Number.isFinite(number)) return "–";
  const name = nameOf(unit);
  const joint = name === "°" || name === "" ? "" : "\u00a0";
  return `${fixed(number, decimalsOf(unit))}${joint}${name}`;
}

/** With a true minus, and none before a zero. */
export function fixed(number: number, decimals: number): string {
  const text = number.toFixed(decimals);
  return (Number(text) === 0 ? text.replace("-", "") : text).replace("-", "−");
}

/** `values` in the unit shown, a gap as NaN; the same array where nothing changes. */
export function arrayIn(
  values: ArrayLike<number | null>,
  unit: Unit,
): Float32Array | Float64Array {
  const [, factor, offset] = typeof unit === "string" ? unitRow(unit) : ["", 1, 0];
  const typed = values instanceof Float32Array || values instanceof Float64Array;
  if (typed && factor === 1 && offset === 0) return values;
  const out = values instanceof Float32Array ? new Float32Array(values.length) : new Float64Array(values.length);
  for (let i = 0; i < out.length; i += 1) {
    const value = values[i];
    out[i] = value == null ? NaN : value * factor + offset;
  }
  return out;
}
