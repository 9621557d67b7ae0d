// SPDX-License-Identifier: Apache-2.0
// What the gauge should say over engine speed, and where to stop, at one oil temperature.

import { useState } from "preact/hooks";
import { asIs, Chart } from "../chart";
import { shown } from "../shown";
import type { PlanAnswer } from "./plan_answer";

const RPM = asIs("rpm", 0);
const STOP = { ink: "--not-met", dash: [], width: 3.5 };

export function ExpectedPressure({ plan }: { plan: PlanAnswer }) {
  const { points, hot_k, band_source, abort_source } = plan.pressure;
  const temperatures = [...new Set(points.map((p) => p.temperature_k))];
  const [chosen, choose] = useState(hot_k);
  if (!points.length) return null;
  const nearest = temperatures.reduce((a, b) => (Math.abs(b - chosen) < Math.abs(a - chosen) ? b : a));
  const here = points.filter((p) => p.temperature_k === nearest);
  return (
    <section aria-label="Expected pressure">
      <h2>Expected pressure</h2>
      <p class="tools" role="group" aria-label="Oil temperature">
        {temperatures.map((t) => (
          <button key={t} aria-pressed={t === nearest} onClick={() => choose(t)}>
            {shown(t, "temperature")}
          </button>
        ))}
      </p>
      <Chart
        title={`Oil pressure, oil at ${shown(nearest, "temperature")}`}
        yIn="pressure"
        x={here.map((p) => p.rpm)}
        xIn={RPM}
        xWords="Engine speed"
        zooms={false}
        reach={[0]}
        lines={[
          { name: "most to be expected", values: here.map((p) => p.high_pa), look: 1 },
          { name: "stop under", values: here.map((p) => p.abort_pa), look: STOP },
        ]}
        bands={[
          {
            low: here.map((p) => p.low_pa),
            high: here.map((p) => p.high_pa),
            words: "to be expected",
          },
        ]}
      />
      <dl class="facts">
        <dt>Expected</dt>
        <dd>{band_source}</dd>
        <dt>Abort line</dt>
        <dd>{abort_source}</dd>
      </dl>
    </section>
  );
}
