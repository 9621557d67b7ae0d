// SPDX-License-Identifier: Apache-2.0
// The round pad: where an acceleration lies on it, and how it is said in words.
// Seen from above with the car's nose up: up is accelerating, left is a left turn.

/** Radius of the pad's edge, in the drawing's units. */
export const EDGE = 100;

export interface Accel {
  /** Of the car [g], forward */
  ax: number;
  /** [g], to the left */
  ay: number;
}

export const REST: Accel = { ax: 0, ay: 0 };

export const sizeOf = (a: Accel): number => Math.hypot(a.ax, a.ay);

/** Where it lies, x right and y down, for a pad whose edge is at `most` g. */
export const placeOf = (a: Accel, most: number): { x: number; y: number } => ({
  x: (-a.ay * EDGE) / most,
  y: (-a.ax * EDGE) / most,
});

/** The acceleration at a place of the pad, no larger than its edge. */
export function accelAt(x: number, y: number, most: number): Accel {
  const a = { ax: (-y * most) / EDGE, ay: (-x * most) / EDGE };
  return kept(a, most);
}

export function kept(a: Accel, most: number): Accel {
  const size = sizeOf(a);
  const share = size > most ? most / size : 1;
  return { ax: tidy(a.ax * share), ay: tidy(a.ay * share) };
}

/** To the thousandth of a g, and no minus nought. */
const tidy = (g: number): number => Math.round(g * 1000) / 1000 + 0;

/** A direction (0 accelerating, 90 left turn) at a size. */
export const toward = (degrees: number, g: number): Accel => ({
  ax: g * Math.cos((degrees * Math.PI) / 180),
  ay: g * Math.sin((degrees * Math.PI) / 180),
});

/** Closed path of a limit that goes all round. */
export function limitPath(directions: readonly number[], limits: readonly number[], most: number): string {
  const points = directions.map((d, k) => {
    const { x, y } = placeOf(toward(d, Math.min(limits[k] ?? 0, most)), most);
    return `${x.toFixed(2)} ${y.toFixed(2)}`;
  });
  return points.length ? `M${points.join("L")}Z` : "";
}

const SMALL = 0.36; // of the whole: less to one side is not worth a word

/** `left turn`, `braking and right turn`, `standing still or steady speed` */
export function motionWords(a: Accel): string {
  const size = sizeOf(a);
  if (size < 0.015) return "at rest, or at a steady speed straight on";
  const along = Math.abs(a.ax) > SMALL * size ? (a.ax > 0 ? "accelerating" : "braking") : "";
  const turn = Math.abs(a.ay) > SMALL * size ? (a.ay > 0 ? "left turn" : "right turn") : "";
  return along && turn ? `${along} in a ${turn}` : along || turn;
}

/** `the right wall`, `the front right corner`: where the oil climbs. */
export function climbs(a: Accel): string | null {
  const size = sizeOf(a);
  if (size < 0.015) return null;
  const along = Math.abs(a.ax) > SMALL * size ? (a.ax > 0 ? "rear" : "front") : "";
  const side = Math.abs(a.ay) > SMALL * size ? (a.ay > 0 ? "right" : "left") : "";
  return along && side ? `the ${along} ${side} corner` : `the ${along || side} wall`;
}

/** The size of a limit in a direction, between the directions it is known in. */
export function limitToward(directions: readonly number[], limits: readonly number[], a: Accel): number | null {
  if (directions.length < 2 || sizeOf(a) < 0.015) return null;
  const want = ((Math.atan2(a.ay, a.ax) * 180) / Math.PI + 360) % 360;
  const step = 360 / directions.length;
  const at = want / step;
  const low = Math.floor(at) % directions.length;
  const share = at - Math.floor(at);
  return (1 - share) * (limits[low] ?? 0) + share * (limits[(low + 1) % directions.length] ?? 0);
}
