// SPDX-License-Identifier: Apache-2.0
// One stage: what to drive, what the gauge should say, at what number to stop, when to go on.

import type { ComponentChildren } from "preact";
import { Mark } from "../shell/Mark";
import { shown } from "../shown";
import type { Drive, Stage } from "./plan_answer";
import { bandOf, drawsAir, forecastOf, inG, inRpm, layoutOf, timeOf, wayOf } from "./words";

function Figure({ name, wide, children }: { name: string; wide?: string; children: ComponentChildren }) {
  return (
    <div class={wide ?? ""}>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

function Pickup({ run }: { run: Drive }) {
  const { outcome } = run.forecast;
  if (outcome === "not computed") return <span class="quiet">not foretold</span>;
  return (
    <span class={outcome === "air" ? "is-air pickup" : "pickup"}>
      <Mark stand={outcome === "air" ? "not met" : "met"} /> {forecastOf(run)}
    </span>
  );
}

function Run({ run }: { run: Drive }) {
  return (
    <dl class="run">
      <Figure name="Way">
        <b>{wayOf(run.turn)}</b>
      </Figure>
      <Figure name="Hold">{run.accel_g ? inG(run.accel_g) : "–"}</Figure>
      <Figure name="Speed">{shown(run.speed_m_s, "speed")}</Figure>
      <Figure name="Gear">{run.gear ?? "–"}</Figure>
      <Figure name="Engine">{inRpm(run.rpm)}</Figure>
      <Figure name="For">{timeOf(run)}</Figure>
      <Figure name="Gauge, oil hot" wide="is-wide">
        {run.pressure ? bandOf(run.pressure) : "–"}
      </Figure>
      <Figure name="Stop under" wide="stop">
        {run.pressure ? shown(run.pressure.abort_pa, "pressure") : "any drop"}
      </Figure>
      <Figure name="Pickup, says the model" wide="is-wide">
        <Pickup run={run} />
      </Figure>
    </dl>
  );
}

function Lines({ title, lines, ticks }: { title: string; lines: readonly string[]; ticks?: boolean }) {
  if (!lines.length) return null;
  return (
    <div>
      <h4>{title}</h4>
      <ul class={ticks ? "ticks" : ""}>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </div>
  );
}

export function StageCard({ stage }: { stage: Stage }) {
  const layout = layoutOf(stage);
  return (
    <li class={`stage ${drawsAir(stage) ? "is-dry" : ""}`}>
      <h3>
        <span class="stage-number">{stage.number}</span>
        {stage.name}
        {layout && <span class="quiet stage-layout">{layout}</span>}
      </h3>
      {stage.runs.map((run, k) => (
        <Run key={k} run={run} />
      ))}
      <Lines title="Go on only if" lines={stage.gate} ticks />
      <details>
        <summary>How to drive it, and what to look at afterwards</summary>
        <div class="two">
          <Lines title="Do" lines={stage.how} />
          <Lines title="Afterwards look at" lines={stage.after} ticks />
        </div>
      </details>
    </li>
  );
}
