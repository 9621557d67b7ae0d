// SPDX-License-Identifier: Apache-2.0
// How high the oil stands for how much of it, both pans on one scale below the rail.

import { useMemo } from "preact/hooks";
import { Chart, type Limit, type Line, type Link, type Spot } from "../chart";
import { heightsOf, type PanFill } from "./answer";

export function Curve({ fill, link }: { fill: PanFill; link: Link }) {
  const { lines, limits, spots } = useMemo(() => parts(fill), [fill]);
  return (
    <Chart
      title="Surface over the pan rail"
      yIn="length"
      x={fill.curve.volume_m3}
      xIn="volume"
      xWords="Oil in the pan, cold"
      lines={lines}
      limits={limits}
      spots={spots}
      link={link}
      high={17}
      zooms={false}
    />
  );
}

function parts(fill: PanFill): { lines: Line[]; limits: Limit[]; spots: Spot[] } {
  const lines: Line[] = [
    { name: fill.name, values: heightsOf(fill), x: fill.curve.volume_m3, look: { ink: "--new", width: 3 } },
  ];
  const { stock } = fill;
  if (stock) {
    const look = { ink: "--stock", dash: [8, 5] };
    lines.push({ name: stock.name, values: heightsOf(stock), x: stock.curve.volume_m3, look });
  }
  const limits: Limit[] = [{ at: 0, words: "pan rail", is: "mark" }];
  if (fill.crank_gap_m !== null) {
    limits.push({ at: fill.hot_height_m + fill.crank_gap_m, words: "lowest of the crank sweep", is: "most" });
  }
  const spots: Spot[] = [{ x: fill.full_m3, y: fill.full_height_m, words: "full" }];
  if (fill.low_m3 !== null && fill.low_height_m !== null)
    spots.push({ x: fill.low_m3, y: fill.low_height_m, words: "low" });
  if (stock) spots.push({ x: stock.full_m3, y: stock.full_height_m, words: "stock, full", ink: "--stock", under: true });
  return { lines, limits, spots };
}
