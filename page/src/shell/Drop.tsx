// SPDX-License-Identifier: Apache-2.0
// The whole window takes files: geometry and logs, told apart by their ending.

import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { job } from "../state";
import { bringIn } from "./arrive";

const over = signal(false);
const hasFiles = (event: DragEvent): boolean => event.dataTransfer?.types.includes("Files") ?? false;

/** A field took the file itself. */
export const DROPPED = "sumpwright-dropped";

/** Counts what was entered and left, as every part of the page says it of itself. */
function listen(): () => void {
  let depth = 0;
  const still = () => {
    depth = 0;
    over.value = false;
  };
  const drop = (event: DragEvent) => {
    if (!hasFiles(event)) return;
    event.preventDefault(); // else the browser would go to the file and leave the page
    still();
    if (job.value) void bringIn([...(event.dataTransfer?.files ?? [])]);
  };
  const on: [string, (event: DragEvent) => void][] = [
    ["dragenter", (e) => hasFiles(e) && (depth += 1) && (over.value = true)],
    ["dragleave", (e) => hasFiles(e) && (depth -= 1) <= 0 && still()],
    ["dragover", (e) => hasFiles(e) && e.preventDefault()],
    ["drop", drop],
    [DROPPED, still],
  ];
  for (const [name, hear] of on) addEventListener(name, hear as EventListener);
  return () => on.forEach(([name, hear]) => removeEventListener(name, hear as EventListener));
}

export function Drop() {
  useEffect(listen, []);
  if (!over.value) return null;
  return (
    <div class="drop" aria-hidden="true">
      <p>{job.value ? "Let go: geometry and logs go into the job folder" : "Open a job first"}</p>
      <p class="drop-kinds">STEP STL 3MF PLY · CSV MF4</p>
    </div>
  );
}
