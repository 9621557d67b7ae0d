// SPDX-License-Identifier: Apache-2.0
// The few volumes that a person fills and reads by, new pan beside stock.

import { shown } from "../shown";
import type { PanFill } from "./answer";

interface Row {
  words: string;
  of: (fill: PanFill) => [number | null, number | null];
}

const ROWS: readonly Row[] = [
  { words: "Full mark", of: (f) => [f.full_m3, f.full_height_m] },
  { words: "Low mark", of: (f) => [f.low_m3, f.low_height_m] },
  { words: "The full fill, hot", of: (f) => [f.hot_m3, f.hot_height_m] },
  { words: "Brim: oil reaches the rail", of: (f) => [f.brim_m3, f.brim_height_m] },
  { words: "To pour in after draining, filter and all", of: (f) => [f.service_fill_m3, null] },
];

export function Holds({ fill }: { fill: PanFill }) {
  const { stock } = fill;
  return (
    <>
      <div class="scroll" tabIndex={0} role="region" aria-label="Volumes">
        <table>
          <thead>
            <tr>
              <th scope="col">Cold, level ground</th>
              <th scope="col" class="num">
                {fill.name}
              </th>
              <th scope="col" class="num">
                over the rail
              </th>
              {stock && (
                <th scope="col" class="num">
                  {stock.name}
                </th>
              )}
              {stock && (
                <th scope="col" class="num">
                  over the rail
                </th>
              )}
            </tr>
          </thead>
          <tbody>
            {ROWS.filter(({ of }) => of(fill)[0] !== null).map(({ words, of }) => (
              <tr key={words}>
                <th scope="row">{words}</th>
                {[fill, ...(stock ? [stock] : [])].flatMap((pan) => {
                  const [volume, height] = of(pan);
                  return [
                    <td class="num fill-volume" key={`${pan.name}v`}>
                      {shown(volume, "volume")}
                    </td>,
                    <td class="num" key={`${pan.name}h`}>
                      {height === null ? "" : shown(height, "length", true)}
                    </td>,
                  ];
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p>
        Most that may stand in it cold: <b>{shown(fill.usable_m3, "volume")}</b>, held by {fill.usable_by}.
        {fill.crank_gap_m !== null && ` Hot, the full fill leaves ${shown(fill.crank_gap_m, "length")} to the crank sweep.`}
      </p>
    </>
  );
}
