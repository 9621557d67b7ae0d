// SPDX-License-Identifier: Apache-2.0
// Oil to height and back: a glass whose level is dragged, and two boxes to type into. It reads
// the answer's own curve and computes nothing else.

import { useComputed, useSignal } from "@preact/signals";
import { useId, useRef } from "preact/hooks";
import type { Link } from "../chart";
import { fromShown, shown, shownNumber, unitName, unitRow } from "../shown";
import { alongAt, heightAt, heightsOf, volumeAt, type PanFill } from "./answer";
import { marksOf, scaleOf, TALL, ticksOf, type GlassScale } from "./glass";

export function Ruler({ fill, link }: { fill: PanFill; link: Link }) {
  const top = fill.curve.volume_m3[fill.curve.volume_m3.length - 1]!;
  const volume = useComputed(() => Math.min(Math.max(link.at.value ?? fill.full_m3, 0), top));
  const height = useComputed(() => heightAt(fill, volume.value));
  const put = (to: number | null): void => {
    if (to !== null) link.at.value = Math.min(Math.max(to, 0), top);
  };
  return (
    <div class="ruler">
      <p class="chart-title">From oil to height and back</p>
      <div class="ruler-two">
        <Glass fill={fill} volume={volume.value} put={put} />
        <div>
          <Box
            words="Oil in the pan"
            kind="volume"
            value={volume.value}
            read={(si) => (si >= 0 && si <= top ? si : null)}
            needed={`0 to ${shown(top, "volume")}`}
            put={put}
          />
          <Box
            words="Surface over the rail"
            kind="length"
            value={height.value ?? fill.lowest_m}
            read={(si) => volumeAt(fill, si)}
            needed={`${shown(fill.lowest_m, "length")} to ${shown(heightsOf(fill).at(-1), "length")}`}
            put={put}
          />
          <Says fill={fill} volume={volume.value} height={height.value} />
        </div>
      </div>
    </div>
  );
}

/** What that level is elsewhere: on the stick, in the stock pan, over the floor. */
function Says({ fill, volume, height }: { fill: PanFill; volume: number; height: number | null }) {
  const along = fill.dipstick && alongAt(fill.dipstick, volume);
  const inStock = fill.stock && heightAt(fill.stock, volume);
  return (
    <dl class="facts ruler-says">
      <dt>Over the floor</dt>
      <dd>{height === null ? "–" : shown(height - fill.lowest_m, "length")}</dd>
      {fill.dipstick && (
        <>
          <dt>On the dipstick</dt>
          <dd>{along === null ? "off the scale" : `${shown(along, "length")} from the stop`}</dd>
        </>
      )}
      {fill.stock && (
        <>
          <dt>In the stock pan</dt>
          <dd>{inStock === null ? "more than it holds" : shown(inStock, "length", true)}</dd>
        </>
      )}
    </dl>
  );
}

interface BoxProps {
  words: string;
  kind: string;
  value: number;
  /** Volume for what was typed; null where there is none */
  read: (si: number) => number | null;
  needed: string;
  put: (volume: number | null) => void;
}

function Box({ words, kind, value, read, needed, put }: BoxProps) {
  const id = useId();
  const wrong = useSignal("");
  const decimals = unitRow(kind)[3];
  const taken = (text: string): void => {
    const number = Number(text.trim().replace("−", "-").replace(",", "."));
    const volume = text.trim() && Number.isFinite(number) ? read(fromShown(number, kind)) : null;
    wrong.value = volume === null ? `Write a number from ${needed}.` : "";
    put(volume);
  };
  return (
    <p class="ruler-box">
      <label for={id}>{words}</label>
      <span>
        <input
          id={id}
          inputMode="decimal"
          value={shownNumber(value, kind).toFixed(decimals)}
          aria-invalid={wrong.value !== ""}
          aria-describedby={`${id}w`}
          onChange={(event) => taken(event.currentTarget.value)}
        />{" "}
        {unitName(kind)}
      </span>
      <span id={`${id}w`} class="ruler-wrong" role="status">
        {wrong}
      </span>
    </p>
  );
}

/** The glass: its level goes with finger, mouse and arrow keys. */
function Glass({ fill, volume, put }: { fill: PanFill; volume: number; put: (v: number | null) => void }) {
  const drawing = useRef<SVGSVGElement>(null);
  const scale = scaleOf(fill);
  const height = heightAt(fill, volume) ?? fill.lowest_m;
  const level = scale.at(height);
  const drag = (event: PointerEvent): void => {
    const box = drawing.current?.getBoundingClientRect();
    if (!box || (event.type === "pointermove" && !event.buttons)) return;
    const y = ((event.clientY - box.top) / box.height) * TALL;
    const high = Math.min(Math.max(scale.height(y), fill.lowest_m), heightsOf(fill).at(-1)!);
    put(volumeAt(fill, high));
  };
  const key = (event: KeyboardEvent): void => {
    const step = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: 10, PageDown: -10 }[event.key];
    if (step === undefined) return;
    event.preventDefault();
    put(volume + step * fromShown(0.05, "volume"));
  };
  return (
    <svg
      ref={drawing}
      class="glass"
      viewBox={`0 0 270 ${TALL}`}
      role="slider"
      tabindex={0}
      aria-label="Oil in the pan"
      aria-orientation="vertical"
      aria-valuemin={0}
      aria-valuemax={fill.curve.volume_m3.at(-1)}
      aria-valuenow={volume}
      aria-valuetext={`${shown(volume, "volume")}, ${shown(height, "length", true)} over the rail`}
      onPointerDown={(event) => (drawing.current?.setPointerCapture(event.pointerId), drag(event))}
      onPointerMove={drag}
      onKeyDown={key}
    >
      <rect x="78" y={level} width="100" height={scale.at(fill.lowest_m) - level} class="glass-oil" />
      <Scales fill={fill} scale={scale} />
      <path d={`M78 ${scale.at(scale.top)}V${scale.at(fill.lowest_m)}H178V${scale.at(scale.top)}`} class="glass-wall" />
      {marksOf(fill, scale).map(({ words, y, row }) => (
        <g key={words}>
          <path d={`M178 ${y}h8L196 ${row}`} class="glass-mark" />
          <text x="200" y={row + 5}>
            {words}
          </text>
        </g>
      ))}
      <path d={`M70 ${level}H186`} class="glass-level" />
      <path d={`M128 ${level - 13}l10 -8h-20zM128 ${level + 13}l10 8h-20z`} class="glass-thumb" />
    </svg>
  );
}

function Scales({ fill, scale }: { fill: PanFill; scale: GlassScale }) {
  return (
    <>
      {ticksOf(fill).map(({ words, height }) => (
        <g key={words}>
          <path d={`M66 ${scale.at(height)}h12`} class="glass-tick" />
          <text x="60" y={scale.at(height) + 5} text-anchor="end">
            {words}
          </text>
        </g>
      ))}
    </>
  );
}
