// SPDX-License-Identifier: Apache-2.0
// Larger, smaller, all: for one chart, or once for all that share a link.

import { useComputed } from "@preact/signals";
import type { Link } from "./link";

export function ZoomKeys({ link }: { link: Link }) {
  const all = useComputed(() => link.window.value === null);
  return (
    <span class="chart-zoom on-screen" role="group" aria-label="Zoom">
      <button type="button" aria-label="Zoom in" onClick={() => link.zoom(2)}>
        +
      </button>
      <button type="button" aria-label="Zoom out" disabled={all} onClick={() => link.zoom(0.5)}>
        −
      </button>
      <button type="button" disabled={all} onClick={() => link.reset()}>
        Show all
      </button>
    </span>
  );
}
