// SPDX-License-Identifier: Apache-2.0
// The heights that were looked at for the split.

import { area, degrees, mass } from "../shape/made";
import { shown } from "../shown";
import type { HalvesAnswer } from "./answer";

export function Candidates({ halves: { candidates } }: { halves: HalvesAnswer }) {
  if (!candidates.length) return null;
  return (
    <details class="fold">
      <summary>All {candidates.length} heights looked at</summary>
      <div class="scroll" tabIndex={0} role="region" aria-label="Heights looked at for the split">
        <table>
          <thead>
            <tr>
              <th class="num">Height</th>
              <th>One ring of wall</th>
              <th>On the machine</th>
              <th class="num">Not reached</th>
              <th class="num">To buy</th>
              <th class="num">Weld</th>
              <th class="num">Torch</th>
              <th class="num">Mass in</th>
            </tr>
          </thead>
          <tbody>
            {candidates.map((c) => (
              <tr key={c.height_m} class={c.chosen ? "made-row" : ""}>
                <th scope="row" class="num">
                  {shown(c.height_m, "length")}
                  {c.chosen && <span class="unseen"> chosen</span>}
                </th>
                <td>{c.ring ? "yes" : "no"}</td>
                <td>{c.machine ? "yes" : "no"}</td>
                <td class="num">{area(c.missed_m2)}</td>
                <td class="num">{c.bought}</td>
                <td class="num">{shown(c.weld_m, "length")}</td>
                <td class="num">{degrees(c.cone)}</td>
                <td class="num">{mass(c.mass_in_kg)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}
