// SPDX-License-Identifier: Apache-2.0
// The test day: bench first, then stages from slow to fast, each with its numbers and where to stop.

import { Mark } from "../shell/Mark";
import { answered, job } from "../state";
import { Asking, useAsked } from "./Asking";
import { Bench } from "./Bench";
import { Cautions } from "./Cautions";
import { ExpectedPressure } from "./ExpectedPressure";
import type { PlanAnswer } from "./plan_answer";
import { Printing } from "./Printing";
import { StageCard } from "./StageCard";
import { drawsAir } from "./words";

const DOING = "Laying out the test day";

/** What the model expects of the whole day. */
function Outlook({ plan }: { plan: PlanAnswer }) {
  const dry = plan.stages.filter(drawsAir);
  const first = dry[0];
  if (!first) {
    return (
      <p class="outlook">
        <Mark stand="met" /> The model expects the pickup to stay covered in every run. That is to be
        proven.
      </p>
    );
  }
  return (
    <p class="outlook is-air">
      <Mark stand="not met" />
      <span>
        The model expects <b>air at the pickup from stage {first.number} on</b>: {first.name}. End the
        programme before it, or change the pan first.
      </span>
    </p>
  );
}

function Missing({ plan }: { plan: PlanAnswer }) {
  if (!plan.missing.length) return null;
  return (
    <div class="note">
      <p>What the job does not say, and what the programme goes without for it:</p>
      <ul>
        {plan.missing.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </div>
  );
}

function Sheets() {
  return (
    <section class="on-screen" aria-label="Sheets to print">
      <Printing
        question="plan"
        words="Make the sheets to print"
        doing="Setting the sheets"
        again="Make the sheets again"
      />
    </section>
  );
}

function Day({ plan }: { plan: PlanAnswer }) {
  return (
    <>
      <Outlook plan={plan} />
      <Sheets />
      <Cautions topics={["Track driving", "Hot oil", "Fire"]} />
      <Missing plan={plan} />
      <h2>Bench, before the engine runs</h2>
      <Bench plan={plan} />
      <h2>Stages, slow before fast, both ways round</h2>
      <p>
        <b class="stop-word">Stop</b> is the abort line: under it lift off, clutch in, engine off, roll
        out. Do not try again before it is known why.
      </p>
      <ol class="stages">
        {plan.stages.map((stage) => (
          <StageCard key={stage.number} stage={stage} />
        ))}
      </ol>
      <ExpectedPressure plan={plan} />
      <h2>Taken for granted</h2>
      <ul>
        {plan.assumptions.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </>
  );
}

export function Programme() {
  useAsked("plan", {}, job.value?.input_hash);
  const found = answered<PlanAnswer>("plan");
  return (
    <>
      {(!found || found.stale) && (
        <Asking question="plan" words="Lay out the test day" doing={DOING} main />
      )}
      {found?.stale && (
        <p class="note">
          <Mark stand="stale" /> The job has changed since this was laid out.
        </p>
      )}
      {found && <Day plan={found.answer} />}
    </>
  );
}
