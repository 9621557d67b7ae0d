// SPDX-License-Identifier: Apache-2.0
// What a chart is asked to show, and what is made of it once so that drawing is quick.

import type { ComponentChildren } from "preact";
import { between, firstAtLeast, nearest, type Numbers } from "./find";
import { lookOf, type Look } from "./ink";
import type { Link, Window } from "./link";
import { Pyramid } from "./pyramid";
import { arrayIn, numberIn, type Unit } from "./unit";

export interface Line {
  name: string;
  /** NaN or null where there is nothing: the line has a gap there */
  values: ArrayLike<number | null>;
  /** Its own x where it does not share the chart's */
  x?: ArrayLike<number>;
  /** 1 to 8 for one of the page's line styles, or colour variable, dash and width */
  look?: number | Partial<Look>;
}

export interface Limit {
  at: number;
  words: string;
  /** `least`: below is not allowed; `most`: above is not; `mark`: only a line */
  is: "least" | "most" | "mark";
  ink?: string;
}

/** Between two lines or levels, such as what is to be expected. */
export interface Band {
  low: ArrayLike<number | null> | number;
  high: ArrayLike<number | null> | number;
  words: string;
  ink?: string;
}

/** A stretch of x: an event, or a part of the manoeuvre. */
export interface Span {
  from: number;
  to: number;
  words: string;
  /** `bad` is hatched, `part` only tinted, `mark` a line at `from` */
  look: "bad" | "part" | "mark";
}

/** A point to name, such as the full mark on a fill curve. */
export interface Spot {
  x: number;
  y: number;
  words: string;
  ink?: string;
  /** Words to the right and below, where others stand above */
  under?: boolean;
}

export interface ChartProps {
  title: string;
  /** Rising; in SI where `xIn` is a kind */
  x: ArrayLike<number>;
  xIn: Unit;
  xWords: string;
  yIn: Unit;
  lines: readonly Line[];
  limits?: readonly Limit[];
  bands?: readonly Band[];
  spans?: readonly Span[];
  spots?: readonly Spot[];
  /** With it, spans that are not parts become keys above the plot */
  onSpan?: (span: number) => void;
  chosen?: number | null;
  /** Shared with other charts, sliders, views; its own where none is given */
  link?: Link;
  /** Of the plot, in rem */
  high?: number;
  /** False in a stack, for all but the last */
  foot?: boolean;
  /** False where zooming makes no sense */
  zooms?: boolean;
  /** Values that the axis reaches in any case */
  reach?: readonly number[];
  /** Larger steps of x are gaps */
  longest?: number;
  /** Under the chart, such as a note */
  children?: ComponentChildren;
}

/** A line ready to be drawn, in the units shown. */
export interface Drawn {
  name: string;
  look: Look;
  xs: Numbers;
  pyramid: Pyramid;
  hidden: boolean;
}

/** Edges of a band; of a level the two are one. */
export interface DrawnBand {
  low: Pyramid | number;
  high: Pyramid | number;
  ink: string;
}

export interface Model {
  xs: Numbers;
  xIn: Unit;
  yIn: Unit;
  xWords: string;
  foot: boolean;
  lines: Drawn[];
  bands: DrawnBand[];
  limits: readonly Limit[];
  spans: readonly Span[];
  spots: readonly Spot[];
  longest: number;
  y: Window;
}

export function modelOf(props: ChartProps, hidden: ReadonlySet<string>): Model {
  const xs = arrayIn(props.x, props.xIn);
  const edge = (e: ArrayLike<number | null> | number): Pyramid | number =>
    typeof e === "number" ? numberIn(e, props.yIn) : pyramidOf(e, props.yIn);
  const lines = props.lines.map((line, k) => ({
    name: line.name,
    look: lookOf(line.look, k),
    xs: line.x ? arrayIn(line.x, props.xIn) : xs,
    pyramid: pyramidOf(line.values, props.yIn),
    hidden: hidden.has(line.name),
  }));
  const bands = (props.bands ?? []).map((band) => ({
    low: edge(band.low),
    high: edge(band.high),
    ink: band.ink ?? "--new",
  }));
  const { xIn, yIn, xWords, limits = [], spans = [], spots = [] } = props;
  const { longest = Infinity, foot = true } = props;
  const model = { xs, xIn, yIn, xWords, foot, lines, bands, limits, spans, spots, longest };
  return { ...model, y: rangeOf(model, props.reach ?? []) };
}

/** Kept by data and unit: another theme or another choice of lines makes none anew. */
const pyramids = new WeakMap<object, { factor: string; pyramid: Pyramid }>();

function pyramidOf(values: ArrayLike<number | null>, unit: Unit): Pyramid {
  const factor = typeof unit === "string" ? `${numberIn(0, unit)} ${numberIn(1, unit)}` : "1";
  const kept = pyramids.get(values);
  if (kept?.factor === factor) return kept.pyramid;
  const pyramid = new Pyramid(arrayIn(values, unit));
  pyramids.set(values, { factor, pyramid });
  return pyramid;
}

/** From the least to the most of all that is shown, with room above and below. */
function rangeOf(model: Omit<Model, "y">, reach: readonly number[]): Window {
  const ends = [...reach, ...model.limits.map((l) => l.at)].map((v) => numberIn(v, model.yIn));
  const edges = model.bands.flatMap((b) => [b.low, b.high]);
  for (const pyramid of [...model.lines.filter((l) => !l.hidden).map((l) => l.pyramid), ...edges]) {
    if (typeof pyramid === "number") ends.push(pyramid);
    else {
      pyramid.look(0, pyramid.values.length);
      ends.push(pyramid.low, pyramid.high);
    }
  }
  const finite = ends.filter(Number.isFinite);
  if (!finite.length) return [0, 1];
  const low = Math.min(...finite);
  const high = Math.max(...finite);
  const room = 0.06 * (high - low) || 0.1 * Math.abs(high) || 1;
  const limited = model.limits.some((l) => numberIn(l.at, model.yIn) <= low);
  const floor = low >= 0 && low < room && !limited ? 0 : low - (limited ? 2 : 1) * room;
  return [floor, high + room];
}

/** Value of a line at x, in the units shown: of the nearest sample, or between two on a curve. */
export function valueAt(line: Drawn, x: number, longest: number): number | null {
  const { xs, pyramid } = line;
  if (!xs.length || x < xs[0]! || x > xs[xs.length - 1]!) return null;
  if (xs.length < 5000 && longest === Infinity) {
    const value = between(xs, pyramid.values, x);
    if (value !== null) return value;
  }
  const after = firstAtLeast(xs, x);
  if (after > 0 && xs[after]! - xs[after - 1]! > longest && xs[after] !== x) return null;
  const value = pyramid.values[nearest(xs, x)]!;
  return Number.isNaN(value) ? null : value;
}
