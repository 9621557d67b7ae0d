// SPDX-License-Identifier: Apache-2.0
// The two judged points at other heights above the sea.

import { fixed } from "../chart";
import { shown } from "../shown";
import { system } from "../state";
import type { Feed } from "./answer";
import { left } from "./Judged";

const FOOT = 0.3048;

export function Altitudes({ feed }: { feed: Feed }) {
  if (!feed.altitudes.length) return null;
  const high = (m: number): string =>
    system.value === "metric" ? `${fixed(m, 0)} m` : `${fixed(m / FOOT, 0)} ft`;
  return (
    <details class="fold">
      <summary>At other heights above the sea</summary>
      <div class="scroll" tabIndex={0} role="region" aria-label="At other heights above the sea">
        <table>
          <thead>
            <tr>
              <th scope="col">Height</th>
              <th scope="col" class="num">
                air
              </th>
              <th scope="col" class="num">
                left, hot
              </th>
              <th scope="col" class="num">
                left, cold
              </th>
            </tr>
          </thead>
          <tbody>
            {feed.altitudes.map((a) => (
              <tr key={a.altitude_m}>
                <th scope="row">{high(a.altitude_m)}</th>
                <td class="num">{shown(a.ambient_pa, "inlet_pressure")}</td>
                <td class="num">{left(a.hot_pa)}</td>
                <td class="num">{a.cold_pa === null ? "–" : left(a.cold_pa)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}
