// SPDX-License-Identifier: Apache-2.0
// All that runs over the time of a drive, on one cursor.

import { useMemo } from "preact/hooks";
import { asIs, Chart, type Line, type Link, type Span } from "../chart";
import { shown } from "../shown";
import { hasValues, inletLimit, type DriveAnswer } from "./answer";



interface ChartsProps {
  drive: DriveAnswer;
  link: Link;
  spells: readonly (readonly [number, number])[];
}

export function Charts({ drive, link, spells }: ChartsProps) {
  const spans = useMemo(() => spansOf(drive, spells), [drive, spells]);
  const series = useMemo(() => seriesOf(drive), [drive]);
  const time = { x: drive.time_s, xIn: "time", xWords: "Time", link, spans } as const;
  const { pickup, pump, rpm, speed_m_s } = drive;
  const needed = inletLimit(drive);
  const show = (k: number): void => link.show(spans[k]!.from, spans[k]!.to);
  return (
    <>
      {hasValues(pickup.cover_m) && (
        <Chart
          {...time}
          title="Oil over the pickup's rim, less what it draws down"
          yIn="length"
          lines={[{ name: "cover", values: pickup.cover_m, look: { ink: "--new", width: 3 } }]}
          limits={[{ at: 0, words: "below, it takes air", is: "least" }]}
          onSpan={show}
          foot={false}
        />
      )}
      {hasValues(pickup.air_fraction) && (drive.summary.first_air_s !== null) && (
        <Chart
          {...time}
          title="Air in what the pickup draws"
          yIn="share"
          lines={[{ name: "air", values: pickup.air_fraction, look: { ink: "--air", width: 3 } }]}
          reach={[0, 1]}
          high={6}
          foot={false}
        />
      )}
      {hasValues(pump.inlet_pa) && (
        <Chart
          {...time}
          title="Pressure at the pump's inlet, absolute"
          yIn="inlet_pressure"
          lines={[{ name: "inlet", values: series.inlet, look: { ink: "--line-4", width: 3 } }]}
          limits={needed === null ? [] : [{ at: needed, words: `needs ${shown(needed, "inlet_pressure")}`, is: "least" }]}
          high={8}
          foot={false}
        />
      )}
      {hasValues(pump.pressure_pa) && (
        <Chart
          {...time}
          title="Gallery pressure, air counted as lost"
          yIn="pressure"
          lines={[{ name: "pressure", values: pump.pressure_pa, look: { ink: "--line-3", width: 3 } }]}
          reach={[0]}
          high={8}
          foot={false}
        />
      )}
      <Chart {...time} title="Oil in each compartment" yIn="volume" lines={series.oil} reach={[0]} high={13} />
      <Chart {...time} title="Acceleration of the car" yIn={asIs("g", 2)} lines={series.push} reach={[0]} high={9} foot={false} />
      {series.doors.length > 0 && (
        <Chart
          {...time}
          title="Doors, how far open"
          yIn={asIs("°", 0)}
          lines={series.doors}
          reach={[0, Math.max(...drive.doors.map((d) => d.stop_deg))]}
          high={8}
          foot={false}
        />
      )}
      {hasValues(rpm) && (
        <Chart
          {...time}
          title="Engine speed"
          yIn={asIs("rpm", 0)}
          lines={[{ name: "engine", values: rpm, look: { ink: "--ink" } }]}
          high={6}
          foot={!hasValues(speed_m_s)}
        />
      )}
      {hasValues(speed_m_s) && (
        <Chart
          {...time}
          title="Speed on the road"
          yIn="speed"
          lines={[{ name: "road", values: speed_m_s, look: { ink: "--ink" } }]}
          reach={[0]}
          high={6}
        />
      )}
    </>
  );
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
