// SPDX-License-Identifier: Apache-2.0
// What the bench should show, beside the form it is read into.

import { shown } from "../shown";
import { answered } from "../state";
import type { FillStep, PlanAnswer, TiltStep } from "../prove/plan_answer";
import { Wide } from "../prove/Wide";

function Fill({ steps }: { steps: readonly FillStep[] }) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col" class="num">
            Poured
          </th>
          <th scope="col" class="num">
            Over the lowest point
          </th>
          <th scope="col">Mark</th>
        </tr>
      </thead>
      <tbody>
        {steps.map((s) => (
          <tr key={s.volume_m3}>
            <td class="num">{shown(s.volume_m3, "volume")}</td>
            <td class="num">{shown(s.depth_m, "length")}</td>
            <td>{s.mark}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Tilt({ steps }: { steps: readonly TiltStep[] }) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">Stands for</th>
          <th scope="col" class="num">
            g
          </th>
          <th scope="col" class="num">
            Tilt
          </th>
          <th scope="col">Down</th>
          <th scope="col" class="num">
            Line highest
          </th>
          <th scope="col" class="num">
            Line lowest
          </th>
        </tr>
      </thead>
      <tbody>
        {steps.map((s, k) => (
          <tr key={k}>
            <td>{s.way}</td>
            <td class="num">{s.accel_g.toFixed(2)}</td>
            <td class="num">{s.angle_deg.toFixed(1)}°</td>
            <td>{s.down_side}</td>
            <td class="num">
              {shown(s.highest[2], "length")}
              {s.over_rail ? " OVER" : ""}
            </td>
            <td class="num">{shown(s.lowest[2], "length")}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

export function Expected({ kind }: { kind: string }) {
  const plan = answered<PlanAnswer>("plan");
  if (!plan || (kind !== "fill-test" && kind !== "tilt-test")) return null;
  const { fill, tilt } = plan.answer.bench;
  return (
    <details class="expected">
      <summary>What it should show{plan.stale ? ", for numbers that have changed since" : ""}</summary>
      {kind === "tilt-test" && (
        <p class="quiet">
          {shown(tilt.volume_m3, "volume")} in the pan: {tilt.what}. Heights are from the rail, − below it.
        </p>
      )}
      <Wide of="What it should show">{kind === "fill-test" ? <Fill steps={fill.steps} /> : <Tilt steps={tilt.steps} />}</Wide>
    </details>
  );
}
