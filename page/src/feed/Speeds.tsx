// SPDX-License-Identifier: Apache-2.0
// How fast the engine may turn with oil that cold.

import { asIs, Chart, type Line } from "../chart";
import type { Allowed, Feed } from "./answer";

export function Speeds({ feed }: { feed: Feed }) {
  const lines: Line[] = [
    { name: "for good", values: feed.continuous.rpm, look: { ink: "--new", width: 3 } },
    { name: "for a short time", values: feed.short.rpm, look: { ink: "--line-2", dash: [9, 4] } },
  ];
  const { stock } = feed;
  if (stock) {
    const look = { ink: "--stock", dash: [3, 3] };
    lines.push({ name: "stock, for good", values: stock.continuous.rpm, x: stock.temperature_k, look });
  }
  return (
    <>
      <Chart
        title="Engine speed allowed"
        yIn={asIs("rpm", 0)}
        x={feed.temperature_k}
        xIn="temperature"
        xWords="Oil"
        lines={lines}
        reach={[0]}
        high={11}
        zooms={false}
      >
        <p class="quiet">
          {held(feed.continuous) || held(feed.short)
            ? "The lines end at the highest speed looked at, not at a limit of the pump. Where a line is missing, not even the lowest speed is allowed."
            : "Where a line is missing, not even the lowest speed is allowed."}
        </p>
      </Chart>
    </>
  );
}

const held = (allowed: Allowed): boolean => allowed.held_to_end.some(Boolean);
