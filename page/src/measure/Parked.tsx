// SPDX-License-Identifier: Apache-2.0
// What the stick says where the car is not level.

import { shown } from "../shown";
import type { PanFill } from "./answer";

export function Parked({ fill }: { fill: PanFill }) {
  const { parked } = fill;
  const first = parked[0];
  if (!first || (!fill.dipstick && fill.crank_gap_m === null)) return null;
  return (
    <>
      <h3>Parked on a slope of {first.slope_deg.toFixed(0)}°, the full fill, cold</h3>
      <div class="scroll" tabIndex={0} role="region" aria-label="Parked on a slope">
        <table>
          <thead>
            <tr>
              <th scope="col">Uphill</th>
              {fill.dipstick && (
                <th scope="col" class="num">
                  the stick says
                </th>
              )}
              {fill.dipstick && (
                <th scope="col" class="num">
                  instead of
                </th>
              )}
              <th scope="col" class="num">
                left to the crank sweep
              </th>
            </tr>
          </thead>
          <tbody>
            {parked.map((p) => (
              <tr key={p.side}>
                <th scope="row">{p.side}</th>
                {fill.dipstick && <td class="num">{p.dipstick_reads_m3 === null ? "off the scale" : shown(p.dipstick_reads_m3, "volume")}</td>}
                {fill.dipstick && <td class="num quiet">{shown(fill.full_m3, "volume")}</td>}
                <td class="num">{shown(p.crank_gap_m, "length")}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}
