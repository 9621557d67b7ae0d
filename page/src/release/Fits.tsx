// SPDX-License-Identifier: Apache-2.0
// The fit log: what each prototype showed where it was held up, and what that changed.

import { shown } from "../shown";
import type { FitEntry } from "./release_answer";

type Found = FitEntry["findings"][number];

const DEEP = { touches: "deep", short: "lacking", free: "free" } as const;
const ALONE = { touches: "touches", short: "short", free: "free" } as const;

/** `rear left corner: touches, 3.0 mm deep, at 10.0 mm, 0.0 mm, −5.0 mm; the starter's nose` */
function foundWords({ place, found, by_m, at_m, note }: Found): string {
  const by = by_m === null ? "" : `, ${shown(by_m, "length")} ${DEEP[found]}`;
  const at = at_m === null ? "" : `, at ${at_m.map((v) => shown(v, "length")).join(", ")}`;
  return `${place}: ${ALONE[found]}${by}${at}${note && `; ${note}`}`;
}

export function Fits({ fits }: { fits: readonly FitEntry[] }) {
  if (!fits.length) return null;
  return (
    <ul class="fits">
      {fits.map((fit) => (
        <li key={fit.record}>
          <b>{fit.prototype}</b> held up{" "}
          <span class="quiet">
            {fit.made.slice(0, 10)}, {fit.by}, revision {fit.revision}
          </span>
          <ul>
            {fit.findings.map((found, k) => (
              <li key={k}>{foundWords(found)}</li>
            ))}
          </ul>
          {fit.change && <p>Changed: {fit.change}</p>}
        </li>
      ))}
    </ul>
  );
}
