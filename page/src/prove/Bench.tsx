// SPDX-License-Identifier: Apache-2.0
// The bench checks in short; their sheets are printed, and what was read goes into 60 Strip.

import { shown } from "../shown";
import type { PlanAnswer } from "./plan_answer";

function tiltWords(plan: PlanAnswer): string {
  const last = new Map(plan.bench.tilt.steps.map((s) => [s.way, s]));
  return [...last.values()].map((s) => `${s.way} to ${s.angle_deg.toFixed(0)}°`).join(", ");
}

export function Bench({ plan }: { plan: PlanAnswer }) {
  const { fill, doors, tilt } = plan.bench;
  return (
    <>
      <dl class="facts">
        <dt>Fill test</dt>
        <dd>
          {fill.steps.length} heights up to the full mark at {shown(fill.full_m3, "volume")}; holds{" "}
          {shown(fill.holds_m3, "volume")} to the rail
        </dd>
        <dt>Tilt test</dt>
        <dd>
          {shown(tilt.volume_m3, "volume")} in it; {tiltWords(plan)}
        </dd>
        <dt>Trap doors</dt>
        <dd>{doors.length ? doors.map((d) => `${d.name} (${d.baffle})`).join(", ") : "none"}</dd>
        <dt>Leak test</dt>
        <dd>to your own limit</dd>
      </dl>
      <p>
        Their sheets are among those to print. What was read is filed in <a href="#/strip">60 Strip</a>.
      </p>
    </>
  );
}
