// SPDX-License-Identifier: Apache-2.0
// Measured against expected, and what the network foretold, on one time axis.

import { useSignal } from "@preact/signals";
import { useEffect, useMemo } from "preact/hooks";
import { Chart, type Line, type Link, type Span, ZoomKeys } from "../chart";
import type { Work } from "../protocol";
import { fromShown } from "../shown";
import { logFile, type LogFile } from "./log_file";
import type { EventsProps } from "./Events";
import type { Foretold, ReadAnswer } from "./read_answer";
import { wayOf } from "./words";

interface LogChartsProps extends EventsProps {
  work: Work;
  link: Link;
}

/** Every row of a single log; of several that were read as one, the answer's thinned rows. */
function useRows(work: Work): { file: LogFile | null; said: string } {
  const file = useSignal<LogFile | null>(null);
  const said = useSignal("");
  const names = work.args["logs"] as string[];
  useEffect(() => {
    file.value = null;
    said.value = "";
    if (names.length !== 1) {
      said.value = "Several logs read as one: the charts show about 4000 of their moments, every dip among them.";
      return;
    }
    let wanted = true;
    logFile(names[0]!, work.key ?? "").then(
      (came) => wanted && (file.value = came),
      (error: unknown) => wanted && (said.value = error instanceof Error ? error.message : String(error)),
    );
    return () => void (wanted = false);
  }, [work.key]);
  return { file: file.value, said: said.value };
}

/** What the track has in other units than the log's rows: g and rpm. */
function scaled(values: readonly (number | null)[], factor: number): Float64Array {
  return Float64Array.from(values, (v) => (v === null ? NaN : v * factor));
}

const DIM = { ink: "--line-8", dash: [7, 4], width: 2 };

function useLines(answer: ReadAnswer, file: LogFile | null) {
  return useMemo(() => {
    const { track } = answer;
    const time = Float64Array.from(track.time_s);
    const measured = (role: string, name: string, from: ArrayLike<number | null>, look: number): Line => {
      const rows = file?.channels.get(role);
      return rows ? { name, values: rows.value, x: rows.time, look } : { name, values: from, look };
    };
    const one = (kind: string) => fromShown(1, kind) - fromShown(0, kind);
    return {
      time,
      pressure: [
        measured("pressure", "measured", scaled(track.pressure_pa, 1), 1),
        { name: "expected", values: scaled(track.expected_pa, 1), look: 3 },
        { name: "a dip is under", values: scaled(track.band_pa, 1), look: DIM },
      ],
      band: { low: scaled(track.band_pa, 1), high: scaled(track.expected_pa, 1), words: "allowed for noise and model" },
      engine: [measured("rpm", "engine", scaled(track.rpm, one("speed_rpm")), 4)],
      push: [
        measured("ay", "to the left", scaled(track.ay_g, one("acceleration")), 1),
        measured("ax", "forward", scaled(track.ax_g, one("acceleration")), 2),
      ],
      warm: [measured("temperature", "oil", scaled(track.temperature_k, 1), 6)],
    };
  }, [answer, file]);
}

function useForetold(answer: ReadAnswer) {
  return useMemo(() => {
    const told = answer.prediction;
    if (!told) return null;
    const time = Float64Array.from(told.original.time_s);
    const both = (of: (f: Foretold) => (number | null)[]): Line[] => [
      { name: "as the job has it", values: scaled(of(told.original), 1), look: 1 },
      ...(told.fitted
        ? [{ name: "fitted to this log", values: scaled(of(told.fitted), 1), x: Float64Array.from(told.fitted.time_s), look: 2 }]
        : []),
    ];
    return { time, cover: both((f) => f.cover_m), air: both((f) => f.air_fraction) };
  }, [answer]);
}

const has = (line: Line): boolean => {
  for (let i = 0; i < line.values.length; i += 1) if (Number.isFinite(line.values[i] ?? NaN)) return true;
  return false;
};

export function LogCharts({ answer, chosen, choose, work, link }: LogChartsProps) {
  const { file, said } = useRows(work);
  const lines = useLines(answer, file);
  const told = useForetold(answer);
  const spans = useMemo<Span[]>(
    () =>
      answer.events
        .filter((e) => e.kind === "dip")
        .map((e) => ({ from: e.start_s, to: e.end_s, words: `dip, ${wayOf(e.turn)}`, look: "bad" as const })),
    [answer],
  );
  const places = useMemo(
    () => answer.events.map((e, k) => (e.kind === "dip" ? k : -1)).filter((k) => k >= 0),
    [answer],
  );
  const at = { link, xIn: "time", xWords: "Time", spans };
  const stack = { ...at, foot: false };
  return (
    <section class="log-charts" aria-label="Charts">
      <div class="charts-head">
        <h2>Measured beside foretold</h2>
        <ZoomKeys link={link} />
      </div>
      <p class="quiet">
        {file ? `Every one of ${file.rows.toLocaleString()} rows. ` : ""}
        {said} Drag to zoom in, or click a dip; the cursor is the same in all.
      </p>
      <Chart
        {...stack}
        title="Oil pressure"
        yIn="pressure"
        x={lines.time}
        lines={lines.pressure}
        bands={[lines.band]}
        onSpan={(k) => choose(places[k]!)}
        chosen={chosen === null ? null : places.indexOf(chosen)}
        high={15}
        reach={[0]}
      />
      {told && told.cover.some(has) && (
        <Chart {...stack} title="Oil over the pickup, foretold" yIn="length" x={told.time} lines={told.cover} limits={[{ at: 0, words: "uncovered", is: "least" }]} high={8} />
      )}
      {told && <Chart {...stack} title="Air at the pickup, foretold" yIn="share" x={told.time} lines={told.air} reach={[0, 1]} high={6} />}
      {lines.push.some(has) && <Chart {...stack} title="Acceleration of the car" yIn="acceleration" x={lines.time} lines={lines.push.filter(has)} high={8} />}
      {lines.warm.some(has) && <Chart {...stack} title="Oil temperature" yIn="temperature" x={lines.time} lines={lines.warm} high={6} />}
      <Chart {...at} title="Engine" yIn="speed_rpm" x={lines.time} lines={lines.engine} high={7} reach={[0]} />
    </section>
  );
}
