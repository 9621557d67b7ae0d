// SPDX-License-Identifier: Apache-2.0
// One shape for each standing, told apart without colour; the word always stands beside it.

import type { Stand } from "./standing";

const SHAPES: Record<Exclude<Stand, "running">, preact.JSX.Element> = {
  met: (
    <>
      <circle cx="12" cy="12" r="10" />
      <path d="M7 12.5l3.6 3.7L17.2 8.6" />
    </>
  ),
  "not met": (
    <>
      <rect x="2.5" y="2.5" width="19" height="19" />
      <path d="M7.5 7.5l9 9m0-9l-9 9" />
    </>
  ),
  "not judged": <circle cx="12" cy="12" r="10" stroke-dasharray="4.2 3.65" />,
  none: <path d="M6 12h12" />,
  stale: (
    <>
      <circle cx="12" cy="12" r="10" />
      <path d="M12 5.8V12l4.4 3.2" />
    </>
  ),
  failed: (
    <>
      <path d="M12 2.5L22.5 21h-21z" />
      <path d="M12 9v5.5m0 2.2v1.4" />
    </>
  ),
};

/** Drawn only: say the word beside it. */
export function Mark({ stand }: { stand: Stand }) {
  const kind = `mark is-${stand.replace(" ", "-")}`;
  if (stand === "running") return <span class={kind} aria-hidden="true" />;
  return (
    <svg class={kind} viewBox="0 0 24 24" aria-hidden="true">
      {SHAPES[stand]}
    </svg>
  );
}
