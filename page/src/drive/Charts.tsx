// SPDX-License-Identifier: Apache-2.0
// All that runs over the time of a drive, on one cursor.

import { useMemo } from "preact/hooks";
import { asIs, Chart, type ChartProps, type Line, type Link, type Span } from "../chart";
import { shown } from "../shown";
import { hasValues, inletLimit, type DriveAnswer, type Gaps } from "./answer";


interface ChartsProps {
  drive: DriveAnswer;
  link: Link;
  spells: readonly (readonly [number, number])[];
}

type Plain = Omit<ChartProps, "x" | "xIn" | "xWords" | "link" | "spans">;

export function Charts({ drive, link, spells }: ChartsProps) {
  const spans = useMemo(() => spansOf(drive, spells), [drive, spells]);
  const series = useMemo(() => seriesOf(drive), [drive]);
  const show = (k: number): void => link.show(spans[k]!.from, spans[k]!.to);
  const charts = [...pickupCharts(drive), ...pumpCharts(drive, series), ...carCharts(drive, series)];
  return (
    <>
      {charts.map((chart, k) => (
        <Chart
          key={chart.title}
          x={drive.time_s}
          xIn="time"
          xWords="Time"
          link={link}
          spans={spans}
          foot={k === charts.length - 1}
          {...(k === 0 && { onSpan: show })}
          {...chart}
        />
      ))}
    </>
  );
}

const one = (name: string, values: Gaps, ink: string, width = 3): Line[] => [{ name, values, look: { ink, width } }];

function pickupCharts({ pickup, summary }: DriveAnswer): Plain[] {
  const charts: Plain[] = [];
  if (hasValues(pickup.cover_m))
    charts.push({
      title: "Oil over the pickup's rim, less what it draws down",
      yIn: "length",
      lines: one("cover", pickup.cover_m, "--new"),
      limits: [{ at: 0, words: "below, it takes air", is: "least" }],
    });
  if (hasValues(pickup.air_fraction) && summary.first_air_s !== null)
    charts.push({
      title: "Air in what the pickup draws",
      yIn: "share",
      lines: one("air", pickup.air_fraction, "--air"),
      reach: [0, 1],
      high: 6,
    });
  return charts;
}

function pumpCharts(drive: DriveAnswer, series: Series): Plain[] {
  const { pump } = drive;
  const needed = inletLimit(drive);
  const charts: Plain[] = [];
  if (hasValues(pump.inlet_pa))
    charts.push({
      title: "Pressure at the pump's inlet, absolute",
      yIn: "inlet_pressure",
      lines: one("inlet", series.inlet, "--line-4"),
      limits: needed === null ? [] : [{ at: needed, words: `needs ${shown(needed, "inlet_pressure")}`, is: "least" }],
      high: 8,
    });
  if (hasValues(pump.pressure_pa))
    charts.push({
      title: "Gallery pressure, air counted as lost",
      yIn: "pressure",
      lines: one("pressure", pump.pressure_pa, "--line-3"),
      reach: [0],
      high: 8,
    });
  charts.push({ title: "Oil in each compartment", yIn: "volume", lines: series.oil, reach: [0], high: 13, foot: true });
  return charts;
}

function carCharts({ rpm, speed_m_s, doors }: DriveAnswer, series: Series): Plain[] {
  const charts: Plain[] = [
    { title: "Acceleration of the car", yIn: asIs("g", 2), lines: series.push, reach: [0], high: 9 },
  ];
  if (doors.length) {
    const reach = [0, Math.max(...doors.map((d) => d.stop_deg))];
    charts.push({ title: "Doors, how far open", yIn: asIs("°", 0), lines: series.doors, reach, high: 8 });
  }
  if (hasValues(rpm))
    charts.push({ title: "Engine speed", yIn: asIs("rpm", 0), lines: one("engine", rpm, "--ink", 2.5), high: 6 });
  if (hasValues(speed_m_s))
    charts.push({ title: "Speed on the road", yIn: "speed", lines: one("road", speed_m_s, "--ink", 2.5), reach: [0], high: 6 });
  return charts;
}

function spansOf(drive: DriveAnswer, spells: ChartsProps["spells"]): Span[] {
  const parts = drive.spans.map(([name, from, to]) => ({
    from,
    to,
    words: name,
    look: "part" as const,
  }));
  const air = spells.map(([from, to]) => ({ from, to, words: "air at the pickup", look: "bad" as const }));
  const first = drive.summary.first_air_s;
  const mark = first === null ? [] : [{ from: first, to: first, words: "first air", look: "mark" as const }];
  return [...parts, ...air, ...mark];
}

type Series = ReturnType<typeof seriesOf>;

function seriesOf(drive: DriveAnswer) {
  const push = ["forward", "left", "up"].map((name, k) => ({ name, values: drive.accel_g.map((a) => a[k]!) }));
  const oil: Line[] = drive.compartments.map((part) => {
    const mark = part.name === drive.pickup.compartment ? ", pickup" : "";
    return { name: `${part.name}${part.where && ` ${part.where}`}${mark}`, values: part.volume_m3 };
  });
  const up = { ink: "--muted", dash: [2, 3], width: 2 };
  oil.push({ name: "up in the engine", values: drive.retained_m3, look: up });
  return {
    push,
    oil,
    doors: drive.doors.map((door) => ({ name: door.name, values: door.angle_deg })),
    // Below nothing the flow cannot be had at all.
    inlet: drive.pump.inlet_pa.map((p) => (p === null ? null : Math.max(p, 0))),
  };
}
