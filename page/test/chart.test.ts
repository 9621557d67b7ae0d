// SPDX-License-Identifier: Apache-2.0
// What a chart draws of a long series, against a plain look at every sample.

import assert from "node:assert/strict";
import { test } from "node:test";
import { between, firstAtLeast, nearest } from "../src/chart/find";
import { Link } from "../src/chart/link";
import { Pyramid } from "../src/chart/pyramid";
import { aroundAt, directionOf, ringsOf, spotOf, wayWords } from "../src/chart/round";
import { bars, columnsOf, on, samples } from "../src/chart/trace";

/** Numbers that repeat from run to run. */
function dice(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 16807) % 2147483647) / 2147483647;
}

function noisy(count: number, gaps: number, roll = dice(7)): Float64Array {
  return Float64Array.from({ length: count }, () => (roll() < gaps ? NaN : roll() * 200 - 100));
}

/** Least and most by looking at each sample. */
function plainly(values: Float64Array, from: number, to: number): [number, number] {
  const finite = [...values.subarray(from, to)].filter((v) => !Number.isNaN(v));
  return finite.length ? [Math.min(...finite), Math.max(...finite)] : [NaN, NaN];
}

test("a pyramid knows the extremes of any stretch, gaps left out", () => {
  const roll = dice(11);
  for (const count of [0, 1, 7, 8, 9, 63, 64, 65, 1000, 1023]) {
    for (const gaps of [0, 0.3, 0.97]) {
      const values = noisy(count, gaps);
      const pyramid = new Pyramid(values);
      for (let k = 0; k < 200; k += 1) {
        const ends = [roll(), roll()].map((r) => Math.floor(r * (count + 1))).sort((a, b) => a - b);
        pyramid.look(ends[0]!, ends[1]!);
        assert.deepEqual([pyramid.low, pyramid.high], plainly(values, ends[0]!, ends[1]!));
      }
    }
  }
});

const X = { shift: 20, scale: 0.05 };
const WIDE = 400;

test("every sample in view lies in the bar of its column, and no bar is longer than it must be", () => {
  const count = 9000; // 8000 of them in view
  const xs = Float64Array.from({ length: count }, (_, k) => k);
  const values = noisy(count, 0.2);
  const columns = columnsOf(xs, X, X.shift, WIDE);
  assert.equal(columns.exact, false);
  const seen = new Map<number, [number, number]>();
  bars((column, low, high) => seen.set(column, [low, high]), xs, new Pyramid(values), columns);
  for (let k = 0; k < WIDE; k += 1) {
    const [from, to] = [k * 20, (k + 1) * 20];
    const own = plainly(values, from, to);
    const joined = k > 0 && !Number.isNaN(values[from - 1]!) && !Number.isNaN(values[from]!);
    const before = joined ? values[from - 1]! : own[0];
    assert.deepEqual(seen.get(k), [Math.min(own[0], before), Math.max(own[1], before)]);
  }
});

test("a gap as wide as a column has no bar, and its neighbours do not reach over it", () => {
  const xs = Float64Array.from({ length: 8000 }, (_, k) => k);
  const values = Float64Array.from(xs, (x) => (x < 4000 ? 0 : 50)).fill(NaN, 3980, 4020);
  const columns = columnsOf(xs, X, X.shift, WIDE);
  const seen = new Map<number, [number, number]>();
  bars((column, low, high) => seen.set(column, [low, high]), xs, new Pyramid(values), columns);
  assert.deepEqual([seen.get(198), seen.get(199), seen.get(200), seen.get(201)], [[0, 0], undefined, undefined, [50, 50]]);
  const time = Float64Array.from(xs, (x) => (x < 4000 ? x : x + 500)); // the logger paused
  const level = Float64Array.from(xs, (x) => (x < 4000 ? 0 : 50));
  const paused: [number, number][] = [];
  const cut = columnsOf(time, { shift: 0, scale: 0.04 }, 0, WIDE);
  bars((_, low, high) => paused.push([low, high]), time, new Pyramid(level), cut, 100);
  assert.ok(paused.every(([low, high]) => low === high));
});

test("where there is room each sample is drawn once, and the pen is lifted at a gap", () => {
  const xs = [0, 1, 2, 3, 4, 10, 11];
  const values = [5, 6, NaN, 7, 8, 9, 10];
  const ruler = { shift: 0, scale: 10 };
  const moves: string[] = [];
  const pen = {
    moveTo: (x: number, y: number) => void moves.push(`to ${x} ${y}`),
    lineTo: (x: number, y: number) => void moves.push(`line ${x} ${y}`),
  };
  const columns = columnsOf(xs, ruler, 0, 200);
  assert.equal(columns.exact, true);
  samples(pen, xs, values, columns, ruler, ruler, 5);
  const alone = (x: number, y: number) => [`to ${x} ${y}`, `line ${x + 0.5} ${y}`];
  assert.deepEqual(moves, [...alone(0, 50), "line 10 60", ...alone(30, 70), "line 40 80", ...alone(100, 90), "line 110 100"]);
});

test("a line leaves the window on both sides", () => {
  const xs = Float64Array.from({ length: 100 }, (_, k) => k);
  const columns = columnsOf(xs, { shift: -500, scale: 10 }, 0, 200); // 50 to 70 in view
  assert.deepEqual([columns.from, columns.to], [49, 71]);
  assert.equal(on({ shift: -500, scale: 10 }, 50), 0);
});

test("a curve is read between its points, and not beyond its ends or beside a gap", () => {
  const xs = [0, 1, 3];
  assert.equal(between(xs, [0, 10, 20], 2), 15);
  assert.equal(between(xs, [0, 10, 20], 0), 0);
  assert.equal(between(xs, [0, 10, 20], 3), 20);
  assert.equal(between(xs, [0, 10, 20], 3.01), null);
  assert.equal(between(xs, [0, 10, 20], -0.01), null);
  assert.equal(between(xs, [0, null, 20], 2), null);
  assert.equal(between(xs, [0, NaN, 20], 3), 20);
  assert.equal(between(xs, [0, 10, 20], NaN), null);
  assert.equal(between([], [], 1), null);
});

test("litres to height and back is the same number", () => {
  const volumes = [0, 0.4, 1.3, 2.9, 4.6];
  const heights = [-120, -104, -80, -55, -30];
  for (const volume of [0, 0.1, 1.3, 2, 4.5, 4.6]) {
    const height = between(volumes, heights, volume)!;
    assert.ok(Math.abs(between(heights, volumes, height)! - volume) < 1e-12); // one division and back
  }
});

test("the nearest of rising numbers", () => {
  const xs = [0, 10, 20];
  assert.deepEqual([-5, 4, 6, 15, 99].map((x) => nearest(xs, x)), [0, 0, 1, 1, 2]);
  assert.equal(nearest([], 3), -1);
  assert.deepEqual([-1, 0, 0.1, 20, 21].map((x) => firstAtLeast(xs, x)), [0, 0, 1, 2, 3]);
});

test("zooming keeps its place, stays inside the whole, and comes back to all", () => {
  const link = new Link();
  link.join({}, [0, 100]);
  link.zoom(2, 25);
  assert.deepEqual(link.shown, [12.5, 62.5]);
  link.zoom(2, 62.5);
  assert.deepEqual(link.shown, [37.5, 62.5]);
  link.pan(10);
  assert.deepEqual(link.shown, [75, 100]);
  link.point(10); // the window follows
  assert.deepEqual(link.shown, [0, 25]);
  assert.equal(link.at.value, 10);
  link.zoom(0.01);
  assert.equal(link.window.value, null);
  link.look(40, 40);
  const [from, to] = link.shown;
  assert.ok(to - from > 0 && to - from < 1);
});

test("charts of other lengths share the longest of them, until they leave", () => {
  const link = new Link();
  const [a, b] = [{}, {}];
  link.join(a, [0, 10]);
  link.join(b, [5, 30]);
  assert.deepEqual(link.whole.value, [0, 30]);
  link.join(b, null);
  assert.deepEqual(link.whole.value, [0, 10]);
});

test("directions on paper: accelerating is up, a left turn is on the left", () => {
  const near = (spot: readonly number[], to: readonly number[]) => spot.forEach((v, k) => assert.ok(Math.abs(v - to[k]!) < 1e-12));
  near(spotOf(0, 1, 10), [0, -10]);
  near(spotOf(90, 1, 10), [-10, 0]);
  near(spotOf(180, 0.5, 10), [0, 5]);
  near(spotOf(270, 1, 10), [10, 0]);
  for (const direction of [0, 33, 90, 181, 359]) assert.ok(Math.abs(directionOf(spotOf(direction, 1, 7)) - direction) < 1e-9);
  assert.deepEqual([0, 90, 180, 270, 360].map(wayWords), ["accelerating", "left turn", "braking", "right turn", "accelerating"]);
});

test("a round curve is read over its seam", () => {
  const directions = [0, 90, 180, 270];
  const values = [1, 2, 3, 4];
  assert.deepEqual([0, 45, 315, 360, -45].map((d) => aroundAt(directions, values, d)), [1, 1.5, 2.5, 1, 2.5]);
});

test("rings are round numbers up to the end", () => {
  const shown = (end: number) => ringsOf(end).map((r) => Number(r.toFixed(6)));
  assert.deepEqual(shown(1.6), [0.5, 1, 1.5]);
  assert.deepEqual(shown(1), [0.2, 0.4, 0.6, 0.8, 1]);
  assert.deepEqual(shown(2), [0.5, 1, 1.5, 2]);
});
