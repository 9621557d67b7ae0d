// SPDX-License-Identifier: Apache-2.0
// The moment of the slider in numbers: how the car is pushed, and what the pickup has.

import { useComputed, type ReadonlySignal } from "@preact/signals";
import { between, saidIn, asIs, type Link, type Unit } from "../chart";
import { hasValues, type DriveAnswer, type Gaps } from "./answer";

const G = asIs("g", 2);
const RPM = asIs("rpm", 0);
/** Pixels of the little pad to one g, and g at its edge. */
const PAD = 46;
const EDGE = 1.5;

export function Now({ drive, link }: { drive: DriveAnswer; link: Link }) {
  const { pickup, pump, time_s } = drive;
  const rows: [string, Gaps, Unit][] = [
    ["Oil over the pickup", pickup.cover_m, "length"],
    ["Air at the pickup", pickup.air_fraction, "share"],
    ["At the pump's inlet", pump.inlet_pa, "inlet_pressure"],
    ["Gallery pressure", pump.pressure_pa, "pressure"],
    ["Engine", drive.rpm, RPM],
    ["Speed", drive.speed_m_s, "speed"],
  ];
  const part = (k: number): ReadonlySignal<number> =>
    useComputed(() => between(time_s, drive.accel_g.map((a) => a[k]!), link.at.value ?? 0) ?? 0);
  const [forward, left] = [part(0), part(1)];
  return (
    <div class="drive-now">
      <Push forward={forward} left={left} />
      <dl class="facts">
        {rows
          .filter(([, values]) => hasValues(values))
          .map(([words, values, unit]) => (
            <Row words={words} values={values} unit={unit} times={time_s} link={link} key={words} />
          ))}
      </dl>
    </div>
  );
}

interface RowProps {
  words: string;
  values: Gaps;
  unit: Unit;
  times: number[];
  link: Link;
}

function Row({ words, values, unit, times, link }: RowProps) {
  const said = useComputed(() => {
    const value = between(times, values, link.at.value ?? 0);
    return saidIn(value !== null && unit === "inlet_pressure" ? Math.max(value, 0) : value, unit);
  });
  return (
    <>
      <dt>{words}</dt>
      <dd>{said}</dd>
    </>
  );
}

/** Seen from above, nose up: the dot is where the car is pushed; the oil goes the other way. */
function Push({ forward, left }: { forward: ReadonlySignal<number>; left: ReadonlySignal<number> }) {
  const place = useComputed(() => `translate(${-PAD * left.value} ${-PAD * forward.value})`);
  const x = useComputed(() => -PAD * left.value);
  const y = useComputed(() => -PAD * forward.value);
  const said = useComputed(() => {
    const ways = [
      Math.abs(forward.value) > 0.03 && `${forward.value > 0 ? "accelerates" : "brakes"} ${saidIn(Math.abs(forward.value), G)}`,
      Math.abs(left.value) > 0.03 && `turns ${left.value > 0 ? "left" : "right"} ${saidIn(Math.abs(left.value), G)}`,
    ].filter(Boolean);
    return ways.length ? `The car ${ways.join(" and ")}` : "The car is hardly pushed";
  });
  return (
    <div class="drive-push">
      <svg viewBox="-80 -80 160 160" aria-hidden="true">
        {[0.5, 1, EDGE].map((g) => (
          <circle r={PAD * g} key={g} class="drive-ring" />
        ))}
        <path d="M0-9l5 7v10h-10v-10z" class="drive-car" />
        <line x2={x} y2={y} class="drive-arm" />
        <circle r="8" transform={place} class="drive-dot" />
        <text x="3" y={-PAD - 3}>
          1 g
        </text>
      </svg>
      <p>{said}</p>
    </div>
  );
}
