// SPDX-License-Identifier: Apache-2.0
// Asks the server for the oil at the thumb's acceleration. One question is on its way at a time: the
// next goes when the last is answered, and is for wherever the thumb is by then. Nothing queues up.

import { type ReadonlySignal, type Signal, useSignal, useSignalEffect } from "@preact/signals";
import { useEffect, useMemo } from "preact/hooks";
import type { Tilted } from "../protocol";
import { connected, job, line, tilted } from "../state";
import type { Oil } from "./contract";
import type { Accel } from "./pad";

export type Mode = "settled" | "sudden";

const PATIENCE = 3000; // ms until an answer counts as lost
let lastSeq = 0;

/** One question on its way, and what is wanted next. */
class Asker {
  private sent: { seq: number; key: string; since: number } | null = null;
  private done = "";
  private timer = 0;

  constructor(private readonly lost: () => void) {}

  /** `key` says what is wanted; the same key is not asked twice. */
  want(ax: number, ay: number, mode: Mode, key: string): void {
    if (key === this.done || (this.sent && performance.now() - this.sent.since < PATIENCE)) return;
    const seq = ++lastSeq;
    if (!line.tilt({ type: "tilt", seq, ax, ay, mode })) return;
    this.sent = { seq, key, since: performance.now() };
    this.timer = window.setTimeout(() => {
      this.forget();
      this.lost();
    }, PATIENCE);
  }

  /** Whether this is the answer to what is on its way. */
  took(seq: number): boolean {
    if (this.sent?.seq !== seq) return false;
    clearTimeout(this.timer);
    this.done = this.sent.key;
    this.sent = null;
    return true;
  }

  forget(): void {
    clearTimeout(this.timer);
    this.sent = null;
    this.done = "";
  }
}

export interface Tilting {
  answer: ReadonlySignal<Tilted | null>;
  /** As the 3D view takes it */
  oil: Signal<Oil | null>;
}

/** The oil at `at`, always of the job as it is now. */
export function useTilting(at: ReadonlySignal<Accel>, mode: ReadonlySignal<Mode>): Tilting {
  const answer = useSignal<Tilted | null>(null);
  const oil = useSignal<Oil | null>(null);
  const round = useSignal(0);
  const asker = useMemo(() => new Asker(() => (round.value += 1)), []);
  useSignalEffect(() => {
    const hash = job.value?.input_hash;
    const up = connected.value;
    const { ax, ay } = at.value;
    void round.value;
    if (!up) asker.forget();
    if (up && hash) asker.want(ax, ay, mode.value, `${hash} ${mode.value} ${ax} ${ay}`);
  });
  useSignalEffect(() => {
    const said = tilted.value;
    if (!said || !asker.took(said.seq)) return;
    answer.value = said;
    if (!said.problem) {
      oil.value = { surfaces: said.surfaces.map((s) => ({ compartment: s.compartment, height_m: s.height_m, up: said.up })) };
    }
    round.value = round.peek() + 1;
  });
  useEffect(() => () => asker.forget(), []);
  return { answer, oil };
}
