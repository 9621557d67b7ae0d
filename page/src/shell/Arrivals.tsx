// SPDX-License-Identifier: Apache-2.0
// What became of each file that came in, and what it still needs.

import { useSignal } from "@preact/signals";
import { save } from "../numbers/draft";
import { fieldsByKey } from "../numbers/form";
import { shown, spanText } from "../shown";
import { arrivals, putAway, send, type Arrival, type Came } from "./arrive";
import { byHand } from "./by_hand";
import { Mark } from "./Mark";
import { ProblemText } from "./Problems";

function UseAs({ name }: { name: string }) {
  const key = useSignal("");
  const places = [...fieldsByKey.value.values()].filter((field) => field.files === "geometry");
  if (!places.length) return null;
  return (
    <p class="tools">
      <label>
        Use it as{" "}
        <select value={key.value} onChange={(e) => (key.value = (e.target as HTMLSelectElement).value)}>
          <option value="">choose …</option>
          {places.map((field) => (
            <option key={field.key} value={field.key}>
              {field.key.replace(/\.file$/, "").replaceAll(".", " · ").replaceAll("_", " ")}
            </option>
          ))}
        </select>
      </label>
      <button disabled={!key.value} onClick={() => void save(key.value, name)}>
        Put it in the job
      </button>
    </p>
  );
}

function Measured({ of }: { of: NonNullable<Came["measure"]> }) {
  const bodies = of.bodies === 1 ? "one body" : `${of.bodies} bodies`;
  return (
    <p>
      Holds {shown(of.volume_m3, "volume")}; {of.watertight ? "closed" : "not closed"}, {bodies},{" "}
      {of.triangles.toLocaleString("en")} triangles.
    </p>
  );
}

function Here({ of, came }: { of: Arrival; came: Came }) {
  const unset = [...(came.set_problems ?? [])];
  const set = of.key && !unset.length && !came.set_error;
  return (
    <>
      <p>
        It lies in the job folder as <code>{came.name}</code>
        {set && (
          <>
            , and stands in the job as <code>{of.key}</code>
          </>
        )}
        .
      </p>
      {came.measure && <Measured of={came.measure} />}
      {came.read && <p>Read: {came.read.channels.map((c) => c.means).join(", ")}.</p>}
      {came.findings?.map((f) => (
        <p class="note" key={f.code + f.place}>
          <b>{f.found}</b> {f.place && `(${f.place})`} {byHand(f.repair)} <span class="quiet">[{f.code}]</span>
        </p>
      ))}
      {came.set_error && <p class="problem">Not put in the job: {came.set_error}</p>}
      {[...unset, ...(came.unnamed ?? [])].map((problem) => (
        <ProblemText key={problem.code + problem.where} problem={problem} />
      ))}
      {of.as === "geometry" && !set && <UseAs name={came.name} />}
      {of.as === "log" && (
        <p>
          <a href="#/prove" onClick={() => void import("../prove/to_log").then((m) => m.toLog(came.name))}>
            Go on with it in 50 Prove
          </a>
        </p>
      )}
    </>
  );
}

/** A file without a unit: how large it would be tells which it is. */
function WhichUnit({ of }: { of: Arrival }) {
  if (!of.sizes) return null;
  return (
    <div role="group" aria-label={`Unit of ${of.file.name}`}>
      <p>Its numbers carry no unit. How large is it?</p>
      <p class="tools">
        {Object.entries(of.sizes).map(([unit, spans]) => (
          <button key={unit} onClick={() => void send(of, { unit })}>
            {unit}: {spans.map(spanText).join(" × ")}
          </button>
        ))}
      </p>
    </div>
  );
}

function NotTaken({ of }: { of: Arrival }) {
  return (
    <>
      {of.said && <p class="problem">{of.said}</p>}
      {!of.sizes && of.problems.map((problem) => <ProblemText key={problem.code + problem.where} problem={problem} />)}
      <WhichUnit of={of} />
      {of.offer && <button onClick={() => void send(of, { name: of.offer! })}>Keep it as {of.offer}</button>}
    </>
  );
}

function One({ of }: { of: Arrival }) {
  const stand = of.state === "here" ? "met" : of.state === "not taken" ? "not met" : "running";
  return (
    <li>
      <p class="arrival-head">
        <Mark stand={stand} />
        <span>
          <b>{of.file.name}</b> {of.state}
        </span>
        <button class="plain" onClick={() => putAway(of.id)} aria-label={`Put away: ${of.file.name}`}>
          Put away
        </button>
      </p>
      {of.came && <Here of={of} came={of.came} />}
      {of.state === "not taken" && <NotTaken of={of} />}
    </li>
  );
}

export function Arrivals() {
  if (!arrivals.value.length) return null;
  return (
    <section class="notice arrivals on-screen" aria-label="Files that came in">
      <ul>
        {arrivals.value.map((of) => (
          <One key={of.id} of={of} />
        ))}
      </ul>
    </section>
  );
}
