// SPDX-License-Identifier: Apache-2.0
// Every time pressure was lower than it should have been: a line each, which shows it in the charts.

import { useSignal } from "@preact/signals";
import { shown } from "../shown";
import type { LogEvent, ReadAnswer } from "./read_answer";
import { clock, inG, inRpm, seconds, wayOf } from "./words";
import { Wide } from "./Wide";

export interface EventsProps {
  answer: ReadAnswer;
  chosen: number | null;
  choose: (event: number) => void;
}

/** Of a log with hundreds, the first are shown until the rest is asked for. */
const MANY = 40;

function foretold(event: LogEvent): string {
  if (event.predicted === null) return "–";
  return event.predicted ? "yes" : "no";
}

interface RowProps extends EventsProps {
  event: LogEvent;
  k: number;
  told: boolean;
}

function Row({ event, k, chosen, choose, told }: RowProps) {
  const lost = Math.round(100 * event.depth);
  return (
    <tr class={chosen === k ? "is-chosen" : ""}>
      <td>
        <button class="event-key" aria-pressed={chosen === k} onClick={() => choose(k)}>
          {clock(event.start_s)}
          <span class="unseen">, show this {event.kind} in the charts</span>
        </button>
      </td>
      <td class="num">{seconds(event.end_s - event.start_s)}</td>
      <td>
        {event.kind}, {wayOf(event.turn)}
        <span class="quiet under">{event.cause}</span>
      </td>
      <td class="num">
        <b>{shown(event.least_pa, "pressure")}</b>
        <span class="quiet under">
          of {shown(event.expected_pa, "pressure")}, {lost} % short
        </span>
      </td>
      <td class="num">
        {inG(event.ay_g, true)}
        <span class="quiet under">{inG(event.ax_g, true)}</span>
      </td>
      <td class="num">
        {inRpm(event.rpm)}
        <span class="quiet under">{shown(event.temperature_k, "temperature")}</span>
      </td>
      {told && <td>{foretold(event)}</td>}
    </tr>
  );
}

const HEADS: readonly [words: string, under: string, num: boolean][] = [
  ["At", "", false],
  ["Lasts", "", true],
  ["What", "likely", false],
  ["Pressure", "of what was expected", true],
  ["To the left", "forward", true],
  ["Engine", "oil", true],
  ["Foretold", "", false],
];

export function Events(props: EventsProps) {
  const others = useSignal(false);
  const all = useSignal(false);
  const { events } = props.answer;
  const rows = events.map((event, k) => ({ event, k }));
  const dips = rows.filter(({ event }) => event.kind === "dip");
  const wanted = others.value ? rows : dips;
  const listed = all.value ? wanted : wanted.slice(0, MANY);
  const rest = events.length - dips.length;
  const told = props.answer.prediction !== null;
  const heads = told ? HEADS : HEADS.slice(0, -1);
  return (
    <>
      <h2>{dips.length === 1 ? "One dip" : `${dips.length || "No"} dips`}</h2>
      {rest > 0 && (
        <label class="pick">
          <input
            type="checkbox"
            checked={others.value}
            onChange={(e) => (others.value = (e.target as HTMLInputElement).checked)}
          />
          also list what was no lack of oil: shifts, idle, relief valve, engine off, sensor ({rest})
        </label>
      )}
      {listed.length > 0 && (
        <Wide of="Events">
          <table class="events">
            <thead>
              <tr>
                {heads.map(([words, under, num]) => (
                  <th key={words} scope="col" class={num ? "num" : ""}>
                    {words}
                    {under && <span class="under">{under}</span>}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {listed.map(({ event, k }) => (
                <Row key={k} event={event} k={k} told={told} {...props} />
              ))}
            </tbody>
          </table>
        </Wide>
      )}
      {listed.length < wanted.length && (
        <button onClick={() => (all.value = true)}>Show all {wanted.length}</button>
      )}
    </>
  );
}
