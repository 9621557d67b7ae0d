// SPDX-License-Identifier: Apache-2.0
// What a log said: the verdict, left against right, what is wrong with sensors, every event, charts.

import { useSignal } from "@preact/signals";
import { useMemo } from "preact/hooks";
import { linkOf } from "../chart";
import type { Work } from "../protocol";
import { byHand } from "../shell/by_hand";
import { Mark } from "../shell/Mark";
import { Events } from "./Events";
import { Filing } from "./Filing";
import { LogCharts } from "./LogCharts";
import { Network } from "./Network";
import { Printing } from "./Printing";
import type { LogSide, ReadAnswer } from "./read_answer";
import { inG, seconds, wayOf } from "./words";
import { Wide } from "./Wide";

const perMinute = (side: LogSide): string =>
  side.time_s > 0 && side.high_per_minute < 1e6
    ? `${side.per_minute.toFixed(1)} (${side.low_per_minute.toFixed(1)} to ${side.high_per_minute.toFixed(1)})`
    : "–";

function Sides({ answer }: { answer: ReadAnswer }) {
  return (
    <>
      <Wide of="Left against right">
        <table class="sides">
          <thead>
            <tr>
              <th scope="col">Turning</th>
              <th scope="col" class="num">
                Judged
              </th>
              <th scope="col" class="num">
                Driven up to
              </th>
              <th scope="col" class="num">
                Dips
              </th>
              <th scope="col" class="num">
                In a dip
              </th>
              <th scope="col" class="num">
                Dips a minute (95 % between)
              </th>
            </tr>
          </thead>
          <tbody>
            {answer.summary.sides.map((side) => (
              <tr key={side.turn} class={side.dips ? "has-dips" : ""}>
                <th scope="row">{wayOf(side.turn)}</th>
                <td class="num">{seconds(side.time_s, 0)}</td>
                <td class="num">{inG(side.over_g)}</td>
                <td class="num">
                  <b>{side.dips}</b>
                </td>
                <td class="num">{seconds(side.dip_s)}</td>
                <td class="num">{perMinute(side)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Wide>
      <p>{byHand(answer.summary.confidence)}</p>
    </>
  );
}

/** Sensors that failed or were logged badly, and what the reader put right. */
function Health({ answer }: { answer: ReadAnswer }) {
  const notes = [...answer.health].sort((a, b) => Number(b.matters) - Number(a.matters));
  if (!notes.length && !answer.findings.length) {
    return <p>Sensors: nothing odd was found in how they were logged.</p>;
  }
  return (
    <>
      <h2>Sensors and logging</h2>
      <ul class="health">
        {notes.map((n) => (
          <li key={n.text + n.start_s} class={n.matters ? "matters" : ""}>
            <b>{n.channel}</b>: {byHand(n.text)} {n.matters && <b>Dips can have been missed or made up by it.</b>}
          </li>
        ))}
        {answer.findings.map((f) => (
          <li key={f.code + f.place + f.found}>
            {f.place}: {f.found}. {byHand(f.repair)} <span class="quiet">[{f.code}]</span>
          </li>
        ))}
      </ul>
    </>
  );
}

function Verdict({ answer, stale }: { answer: ReadAnswer; stale: boolean }) {
  const { summary } = answer;
  const { standing } = summary;
  return (
    <>
      <p class="log-verdict" role="status">
        <Mark stand={standing === "not proven" ? "not judged" : standing} />{" "}
        <span>
          {standing === "not proven" && "Not proven yet: "}
          {summary.headline || summary.verdict}
        </span>
      </p>
      <p class="quiet">
        {answer.files.map(([name]) => name).join(", ")}: {seconds(summary.duration_s, 0)} logged,{" "}
        {seconds(summary.judged_s, 0)} judged, against revision {answer.revision}.
      </p>
      {stale && (
        <p class="note">
          <Mark stand="stale" /> The job has changed since: what the network says may be another now.
        </p>
      )}
    </>
  );
}

interface LogAnswerProps {
  answer: ReadAnswer;
  work: Work;
  stale: boolean;
}

export function LogAnswer({ answer, work, stale }: LogAnswerProps) {
  const chosen = useSignal<number | null>(null);
  const link = useMemo(() => linkOf("log"), []);
  const toEvent = (k: number) => {
    chosen.value = k;
    const event = answer.events[k]!;
    link.show(event.start_s, event.end_s);
  };
  const events = { answer, chosen: chosen.value, choose: toEvent };
  return (
    <section aria-label="What the log said">
      <h2>What it said</h2>
      <Verdict answer={answer} stale={stale} />
      <Sides answer={answer} />
      <Filing answer={answer} />
      <Network answer={answer} />
      <Events {...events} />
      <LogCharts {...events} work={work} link={link} />
      <Health answer={answer} />
      <h2>Taken for granted</h2>
      <ul>
        {answer.assumptions.map((line) => (
          <li key={line}>{byHand(line)}</li>
        ))}
      </ul>
      <Printing
        question="read"
        args={work.args}
        words="Make a report to print"
        doing="Setting the report"
        again="Make the report again"
      />
    </section>
  );
}
