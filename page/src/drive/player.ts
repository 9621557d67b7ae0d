// SPDX-License-Identifier: Apache-2.0
// Takes the cursor of all charts through the drive, at a share of real time.

import { computed, signal, type ReadonlySignal, type Signal } from "@preact/signals";
import { between, firstAtLeast, type Link } from "../chart";
import type { Oil } from "../view/contract";
import type { DriveAnswer, Triple } from "./answer";

export const SPEEDS = [0.1, 0.25, 0.5, 1, 2, 4] as const;

export class Player {
  readonly playing = signal(false);
  readonly speed: Signal<number> = signal(1);
  private frame = 0;
  private last = 0;

  constructor(
    readonly link: Link,
    readonly end: number,
  ) {}

  get now(): number {
    return Math.min(Math.max(this.link.at.value ?? 0, 0), this.end);
  }

  toggle(): void {
    if (this.playing.peek()) this.pause();
    else this.play();
  }

  play(): void {
    if (this.link.at.peek() === null || this.link.at.peek()! >= this.end - 1e-6) this.link.point(0);
    this.playing.value = true;
    this.last = performance.now();
    this.frame = requestAnimationFrame(this.tick);
  }

  pause(): void {
    this.playing.value = false;
    cancelAnimationFrame(this.frame);
  }

  go(to: number): void {
    this.link.point(Math.min(Math.max(to, 0), this.end));
  }

  private readonly tick = (at: number): void => {
    // A tab that was in the background goes on where it was.
    const passed = Math.min(Math.max(at - this.last, 0), 1000) / 1000;
    this.last = at;
    this.go((this.link.at.peek() ?? 0) + passed * this.speed.peek());
    if (this.now >= this.end) this.pause();
    else this.frame = requestAnimationFrame(this.tick);
  };
}

/** Between two times the surface's normal turns straight from one to the other. */
function tiltAt(times: readonly number[], tilts: readonly Triple[], at: number): Triple {
  const after = Math.min(Math.max(firstAtLeast(times, at), 1), times.length - 1);
  const [from, to] = [tilts[after - 1]!, tilts[after]!];
  const share = (at - times[after - 1]!) / (times[after]! - times[after - 1]! || 1);
  const raw = from.map((v, k) => v + share * (to[k]! - v)) as Triple;
  const long = Math.hypot(...raw);
  return raw.map((v) => v / long) as Triple;
}

/** Compartments are lettered; without baffles there is one, which fills the room of them all. */
const LETTERS = Array.from("ABCDEFGHIJKLMNOPQRSTUVWXYZ");

/** Where the oil stands at the cursor, between two times of the answer straight. */
export function oilOf(drive: DriveAnswer, link: Link): ReadonlySignal<Oil | null> {
  return computed(() => {
    const at = Math.min(Math.max(link.at.value ?? 0, drive.time_s[0]!), drive.time_s.at(-1)!);
    const surfaces = drive.compartments.flatMap((part) => {
      const height_m = between(drive.time_s, part.surface_height_m, at) ?? part.surface_height_m[0]!;
      const up = tiltAt(drive.time_s, part.tilt, at);
      const names = drive.doors_are === "no baffles" ? LETTERS : [part.name];
      return names.map((compartment) => ({ compartment, height_m, up, frame: "engine" as const }));
    });
    return { surfaces };
  });
}

/** How far every door stands open at the cursor [rad]. */
export function doorsOf(drive: DriveAnswer, link: Link): ReadonlySignal<Record<string, number>> {
  return computed(() => {
    const at = link.at.value ?? 0;
    const open = drive.doors.map((door) => {
      const degrees = between(drive.time_s, door.angle_deg, at) ?? door.angle_deg[0] ?? 0;
      return [door.name, (degrees * Math.PI) / 180] as const;
    });
    return Object.fromEntries(open);
  });
}
