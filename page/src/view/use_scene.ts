// SPDX-License-Identifier: Apache-2.0
// The scene of the open job, fetched anew when its inputs change.

import { useComputed, useSignal, useSignalEffect, type ReadonlySignal } from "@preact/signals";
import { gotBytes, Refused } from "../api";
import { job } from "../state";
import { type PanScene, sceneOf, type ScenePart } from "./scene_file";

export interface SceneState {
  scene: PanScene | null;
  problem: string | null;
}

/** What is said until the pan is there; nothing is on its way while the job cannot be read. */
export const waitWords = (coming: string): string =>
  job.value && !job.value.input_hash ? "The pan comes once the job is mended." : coming;

/** `more` is drawn with it. */
export function useScene(of: "pan" | "motion", more?: ReadonlySignal<readonly ScenePart[]>): ReadonlySignal<SceneState> {
  const state = useSignal<SceneState>({ scene: null, problem: null });
  useSignalEffect(() => {
    const hash = job.value?.input_hash;
    if (!hash) return;
    let wanted = true;
    gotBytes(`/api/scene?of=${of}`).then(
      (bytes) => {
        if (wanted) state.value = { scene: sceneOf(bytes), problem: null };
      },
      (error: unknown) => {
        const text = error instanceof Refused ? error.message : "the server did not answer; see whether it still runs";
        if (wanted) state.value = { scene: state.peek().scene, problem: text };
      },
    );
    return () => {
      wanted = false;
    };
  });
  return useComputed(() => {
    const { scene, problem } = state.value;
    return { scene: scene && more?.value.length ? { ...scene, parts: [...scene.parts, ...more.value] } : scene, problem };
  });
}
