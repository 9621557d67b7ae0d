// SPDX-License-Identifier: Apache-2.0
// How much in which direction, seen from above, nose up:
//
//   <Polar title="Pickup uncovers at" yIn={asIs("g", 2)} end={1.6}
//     curves={[{ name: "new pan", directions, values, look: { ink: "--new" }, fill: true },
//              { name: "stock pan", directions, values, look: { ink: "--stock", dash: [7, 4] } }]}
//     fences={[{ direction: 90, at: 1.0, words: "asked for" }]}      // targets: outside is good
//     spots={[{ direction: 90, at: 0.93, words: "driven" }]}         // measured
//     at={signal} />                                                 // the direction, shared

import { useComputed, useSignal, type Signal } from "@preact/signals";
import { useRef } from "preact/hooks";
import { lookOf, type Look } from "./ink";
import { Swatch } from "./Key";
import { aroundAt, directionOf, ringsOf, spotOf, wayWords, type Spot } from "./round";
import { saidIn, type Unit } from "./unit";
import "./chart.css";

export interface RoundCurve {
  name: string;
  directions: ArrayLike<number>;
  values: ArrayLike<number | null>;
  look?: number | Partial<Look>;
  fill?: boolean;
}

export interface RoundSpot {
  direction: number;
  at: number;
  words: string;
}

export interface PolarProps {
  title: string;
  yIn: Unit;
  /** Value at the outermost ring */
  end: number;
  curves: readonly RoundCurve[];
  fences?: readonly RoundSpot[];
  spots?: readonly RoundSpot[];
  at?: Signal<number | null>;
}

const RADIUS = 190;

export function Polar(props: PolarProps) {
  const { title, yIn, end, curves, fences = [], spots = [] } = props;
  const own = useSignal<number | null>(null);
  const at = props.at ?? own;
  const drawing = useRef<SVGSVGElement>(null);
  const point = (event: PointerEvent): void => {
    const box = drawing.current?.getBoundingClientRect();
    if (!box) return;
    const spot: Spot = [event.clientX - box.left - box.width / 2, event.clientY - box.top - box.height / 2];
    if (Math.hypot(...spot) > 8) at.value = Math.round(directionOf(spot));
  };
  const key = (event: KeyboardEvent): void => {
    const by = { ArrowLeft: 5, ArrowUp: 5, ArrowRight: -5, ArrowDown: -5 }[event.key];
    const to = { Home: 0, Escape: null }[event.key];
    if (by === undefined && to === undefined) return;
    event.preventDefault();
    at.value = by === undefined ? to! : ((at.peek() ?? 0) + by + 360) % 360;
  };
  const says = useComputed(() => readWords(props, at.value));
  return (
    <figure class="polar">
      <figcaption class="chart-title">{title}</figcaption>
      <svg
        ref={drawing}
        viewBox="-300 -262 600 524"
        role="slider"
        tabindex={0}
        aria-label={`${title}: direction`}
        aria-valuemin={0}
        aria-valuemax={360}
        aria-valuenow={at.value ?? 0}
        aria-valuetext={says}
        onPointerMove={point}
        onPointerDown={point}
        onKeyDown={key}
      >
        <Rings end={end} yIn={yIn} />
        {curves.map((curve, k) => (
          <Loop curve={curve} place={k} end={end} key={curve.name} />
        ))}
        {fences.map((fence) => (
          <Fence fence={fence} end={end} key={`${fence.direction} ${fence.words}`} />
        ))}
        {spots.map((spot, k) => (
          <Measured spot={spot} end={end} key={k} />
        ))}
        <Ways />
        {at.value !== null && <Hand curves={curves} end={end} direction={at.value} />}
      </svg>
      <RoundKey {...props} direction={at.value} />
      <p class="unseen">{summary(props)}</p>
    </figure>
  );
}

function Rings({ end, yIn }: { end: number; yIn: Unit }) {
  const rings = ringsOf(end);
  return (
    <g>
      <circle r={RADIUS} fill="none" stroke="var(--edge)" stroke-width="1.5" />
      {rings.map((ring) => (
        <circle r={(RADIUS * ring) / end} fill="none" stroke="var(--rule)" key={ring} />
      ))}
      {[0, 45, 90, 135].map((d) => {
        const [x, y] = spotOf(d, 1, RADIUS);
        return <line x1={x} y1={y} x2={-x} y2={-y} stroke="var(--rule)" key={d} />;
      })}
      {rings.map((ring) => {
        const [x, y] = spotOf(292, ring / end, RADIUS);
        return (
          <text class="polar-quiet polar-halo" x={x} y={y + 4} text-anchor="middle" key={ring}>
            {saidIn(ring, yIn)}
          </text>
        );
      })}
    </g>
  );
}

function Loop({ curve, place, end }: { curve: RoundCurve; place: number; end: number }) {
  const look = lookOf(curve.look, place);
  const points = Array.from(curve.directions, (d, k) => {
    const value = curve.values[k];
    return value == null ? "" : spotOf(d, Math.min(value / end, 1), RADIUS).join(",");
  }).filter(Boolean);
  return (
    <polygon
      points={points.join(" ")}
      fill={curve.fill ? `var(${look.ink})` : "none"}
      fill-opacity="0.12"
      stroke={`var(${look.ink})`}
      stroke-width={look.width + 0.5}
      stroke-dasharray={look.dash.join(" ")}
      stroke-linejoin="round"
    />
  );
}

/** A target: a bar across its direction, with strokes on the side where the limit must not be. */
function Fence({ fence, end }: { fence: RoundSpot; end: number }) {
  const at = (RADIUS * Math.min(fence.at, end)) / end;
  const strokes = [-22, -11, 0, 11].map((x) => `M${x} ${-at}l11 8`).join("");
  return (
    <g transform={`rotate(${-fence.direction})`} stroke="var(--not-met)" fill="none">
      <path d={`M-24 ${-at}h48`} stroke-width="3.5" />
      <path d={strokes} stroke-width="1.5" />
    </g>
  );
}

function Measured({ spot, end }: { spot: RoundSpot; end: number }) {
  const [x, y] = spotOf(spot.direction, Math.min(spot.at / end, 1), RADIUS);
  return (
    <path
      d="M0-8l8 8l-8 8l-8-8z"
      transform={`translate(${x} ${y})`}
      fill="var(--paper)"
      stroke="var(--ink)"
      stroke-width="2.5"
    />
  );
}

/** The four ways round the edge, and where the oil goes, so that no sign can be misread. */
function Ways() {
  const out = RADIUS + 14;
  const ways: [number, number, string, string, string][] = [
    [0, -out - 32, "middle", "Accelerating", "oil runs back"],
    [0, out + 26, "middle", "Braking", "oil runs forward"],
    [-out, -4, "end", "Left turn", "oil runs right"],
    [out, -4, "start", "Right turn", "oil runs left"],
  ];
  return (
    <g>
      {ways.map(([x, y, anchor, words, oil]) => (
        <g key={words}>
          <text class="polar-way" x={x} y={y} text-anchor={anchor as "end"}>
            {words}
          </text>
          <text class="polar-quiet" x={x} y={y + 18} text-anchor={anchor as "end"}>
            {oil}
          </text>
        </g>
      ))}
      <path d="M0-15l7 12v17h-14v-17z" fill="var(--paper)" stroke="var(--ink)" stroke-width="1.5" />
    </g>
  );
}

function Hand({ curves, end, direction }: { curves: readonly RoundCurve[]; end: number; direction: number }) {
  const [x, y] = spotOf(direction, 1, RADIUS);
  return (
    <g pointer-events="none">
      <line x2={x} y2={y} stroke="var(--ink)" stroke-width="2" />
      {curves.map((curve, k) => {
        const value = aroundAt(curve.directions, curve.values, direction);
        if (value === null) return null;
        const [cx, cy] = spotOf(direction, Math.min(value / end, 1), RADIUS);
        const colour = `var(${lookOf(curve.look, k).ink})`;
        return <circle cx={cx} cy={cy} r="6" fill="var(--paper)" stroke={colour} stroke-width="3" key={curve.name} />;
      })}
    </g>
  );
}

function RoundKey({ curves, yIn, fences = [], spots = [], direction }: PolarProps & { direction: number | null }) {
  return (
    <div class="polar-key">
      <p class="polar-read">{direction === null ? "Point at a direction to read it." : `${direction}°, ${wayWords(direction)}`}</p>
      <ul>
        {curves.map((curve, k) => (
          <li key={curve.name}>
            <Swatch look={lookOf(curve.look, k)} />
            {curve.name}
            {direction !== null && <b>{saidIn(aroundAt(curve.directions, curve.values, direction), yIn)}</b>}
          </li>
        ))}
        {fences.length > 0 && (
          <li>
            <svg class="chart-swatch" viewBox="0 0 34 14" aria-hidden="true">
              <path d="M1 3h32M4 3l8 8M15 3l8 8" stroke="var(--not-met)" stroke-width="2.5" fill="none" />
            </svg>
            {fences[0]!.words}
          </li>
        )}
        {spots.length > 0 && (
          <li>
            <svg class="chart-swatch" viewBox="0 0 34 18" aria-hidden="true">
              <path d="M17 1l8 8l-8 8l-8-8z" stroke="var(--ink)" stroke-width="2.5" fill="none" />
            </svg>
            {spots[0]!.words}
          </li>
        )}
      </ul>
    </div>
  );
}

function readWords({ curves, yIn }: PolarProps, direction: number | null): string {
  if (direction === null) return "no direction";
  const said = curves.map((c) => `${c.name} ${saidIn(aroundAt(c.directions, c.values, direction), yIn)}`);
  return `${direction} degrees, ${wayWords(direction)}: ${said.join(", ")}`;
}

function summary(props: PolarProps): string {
  const said = [0, 90, 180, 270].map((d) => readWords(props, d));
  const asked = (props.fences ?? []).map((f) => `${wayWords(f.direction)} ${saidIn(f.at, props.yIn)}`);
  return `${props.title}. ${said.join(". ")}.${asked.length ? ` Asked for: ${asked.join(", ")}.` : ""}`;
}
