// SPDX-License-Identifier: Apache-2.0
import { signal } from "@preact/signals";

/** Whether the start page lies over an open job, to choose another one. */
export const choosing = signal(false);

export const leave = (): void => {
  choosing.value = true;
};
