// SPDX-License-Identifier: Apache-2.0
// The round pad: push the thumb where the car accelerates, and the oil goes the other way.

import { type Signal, useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { type Accel, accelAt, EDGE, kept, limitPath, placeOf, REST, sizeOf, toward } from "./pad";
import "./pad.css";

const RING = 0.25;
const STEP = 0.05;
const FINE = 0.01;
const BACK = 260; // ms to spring back

export interface PadTarget {
  /** 0 accelerating, 90 left turn */
  degrees: number;
  g: number;
}

export interface TiltPadProps {
  at: Signal<Accel>;
  /** Of the pad's edge [g] */
  most: number;
  directions: readonly number[];
  limits: readonly number[];
  stock: readonly number[] | null;
  targets: readonly PadTarget[];
  /** The thumb goes back to the middle when it is let go */
  springs: boolean;
  /** In words, read aloud with the pad */
  says: string;
  covered: boolean | null;
}

const KEYS: Record<string, [number, number]> = {
  ArrowUp: [1, 0],
  ArrowDown: [-1, 0],
  ArrowLeft: [0, 1],
  ArrowRight: [0, -1],
};

export function TiltPad(props: TiltPadProps) {
  const { at, most } = props;
  const { down, move, up } = useThumb(props);
  const key = (event: KeyboardEvent) => {
    const way = KEYS[event.key];
    const step = event.shiftKey ? FINE : STEP;
    if (way) at.value = kept({ ax: at.value.ax + step * way[0], ay: at.value.ay + step * way[1] }, most);
    else if (event.key === "Home" || event.key === "Escape") at.value = REST;
    else return;
    event.preventDefault();
  };
  return (
    <svg
      class="pad"
      viewBox="-124 -124 248 248"
      tabindex={0} // an SVG knows it by this spelling only
      role="application"
      aria-label={`Tilt pad, seen from above with the car's nose up. ${props.says} Arrow keys push the thumb, with shift finely; Home is rest.`}
      onKeyDown={key}
      onPointerDown={down}
      onPointerMove={move}
      onPointerUp={up}
      onPointerCancel={up}
    >
      <Field {...props} />
      <Rings most={most} />
      <Curves {...props} />
      <Numbers most={most} />
      <Words />
      <Thumb at={at} most={most} covered={props.covered} />
    </svg>
  );
}

/** Pointer to acceleration, and the way back. */
function useThumb({ at, most, springs }: TiltPadProps) {
  const held = useSignal(false);
  const frame = useRef(0);
  useEffect(() => () => cancelAnimationFrame(frame.current), []);
  const follow = (event: PointerEvent) => {
    const pad = event.currentTarget as SVGSVGElement;
    const matrix = pad.getScreenCTM();
    if (!matrix) return;
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    at.value = accelAt(point.x, point.y, most);
  };
  const back = () => {
    const from = at.value;
    const start = performance.now();
    const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const step = (now: number) => {
      const left = still ? 0 : Math.max(0, 1 - (now - start) / BACK);
      at.value = kept({ ax: from.ax * left * left, ay: from.ay * left * left }, most);
      if (left > 0) frame.current = requestAnimationFrame(step);
    };
    frame.current = requestAnimationFrame(step);
  };
  return {
    down: (event: PointerEvent) => {
      cancelAnimationFrame(frame.current);
      (event.currentTarget as Element).setPointerCapture(event.pointerId);
      held.value = true;
      follow(event);
    },
    move: (event: PointerEvent) => {
      if (held.value) follow(event);
    },
    up: () => {
      if (held.value && springs) back();
      held.value = false;
    },
  };
}

/** Striped where the pickup is out of the oil, plain where it is covered. */
function Field({ directions, limits, most }: TiltPadProps) {
  return (
    <>
      <defs>
        <pattern id="pad-air" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect class="pad-air" width="7" height="7" />
          <line class="pad-air-line" x1="0" y1="0" x2="0" y2="7" />
        </pattern>
      </defs>
      <circle r={EDGE} class="pad-edge" fill={directions.length ? "url(#pad-air)" : "none"} />
      {directions.length > 0 && <path class="pad-covered" d={limitPath(directions, limits, most)} />}
    </>
  );
}

const ringsTo = (most: number): number[] => Array.from({ length: Math.floor(most / RING + 1e-9) }, (_, k) => RING * (k + 1));

/** Over the curves, so that no line goes through a number. */
function Numbers({ most }: { most: number }) {
  return (
    <g class="pad-rings" aria-hidden="true">
      {ringsTo(most)
        .filter((_, k) => k % 2)
        .map((g) => (
          <text key={g} x={(EDGE * g * 0.707) / most} y={(EDGE * g * 0.707) / most + 3}>
            {g.toFixed(1)} g
          </text>
        ))}
    </g>
  );
}

function Rings({ most }: { most: number }) {
  const rings = ringsTo(most);
  return (
    <g class="pad-rings" aria-hidden="true">
      {rings.map((g, k) => (
        <circle key={g} r={(EDGE * g) / most} class={k % 2 ? "half" : ""} />
      ))}
      <line x1={-EDGE} x2={EDGE} />
      <line y1={-EDGE} y2={EDGE} />
    </g>
  );
}

function Curves({ directions, limits, stock, targets, most }: TiltPadProps) {
  return (
    <g aria-hidden="true">
      {stock && <path class="pad-stock" d={limitPath(directions, stock, most)} />}
      <path class="pad-limit" d={limitPath(directions, limits, most)} />
      {targets.map((target) => {
        const { x, y } = placeOf(toward(target.degrees, Math.min(target.g, most)), most);
        return <path key={target.degrees} class="pad-target" d="M-8 0H8M0 0v9" transform={`translate(${x} ${y}) rotate(${-target.degrees})`} />;
      })}
    </g>
  );
}

function Words() {
  return (
    <g class="pad-words" aria-hidden="true">
      <text y={-EDGE - 8}>accelerating</text>
      <text y={EDGE + 17}>braking</text>
      <text transform={`rotate(-90)`} y={-EDGE - 8}>
        left turn
      </text>
      <text transform={`rotate(90)`} y={-EDGE - 8}>
        right turn
      </text>
    </g>
  );
}

/** The thumb, and an arc of oil at the wall that it climbs. */
function Thumb({ at, most, covered }: { at: Signal<Accel>; most: number; covered: boolean | null }) {
  const a = at.value;
  const { x, y } = placeOf(a, most);
  const size = sizeOf(a);
  const wall = (Math.atan2(-y, -x) * 180) / Math.PI;
  const wide = 12 + 22 * Math.min(1, size / most);
  const end = (degrees: number) => {
    const r = (degrees * Math.PI) / 180;
    return `${((EDGE - 5) * Math.cos(r)).toFixed(2)} ${((EDGE - 5) * Math.sin(r)).toFixed(2)}`;
  };
  return (
    <g aria-hidden="true">
      {size >= 0.015 && <path class="pad-oil" d={`M${end(wall - wide)}A${EDGE - 5} ${EDGE - 5} 0 0 1 ${end(wall + wide)}`} />}
      <line class="pad-arm" x2={x} y2={y} />
      <circle class={covered === false ? "pad-thumb air" : "pad-thumb"} cx={x} cy={y} r="13" />
      {covered === false ? (
        <path class="pad-sign air" d={`M${x - 5} ${y - 5}l10 10m0 -10l-10 10`} />
      ) : (
        <circle class="pad-sign" cx={x} cy={y} r="3.5" />
      )}
    </g>
  );
}
