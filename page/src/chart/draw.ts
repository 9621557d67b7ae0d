// SPDX-License-Identifier: Apache-2.0
// Puts lines, bands, limits and spans on the plot's canvas.

import type uPlot from "uplot";
import type { Numbers } from "./find";
import { font, ink, rem } from "./ink";
import type { Drawn, DrawnBand, Limit, Model, Span, Spot } from "./model";
import type { Pyramid } from "./pyramid";
import { bars, columnsOf, on, samples, type Columns, type Ruler } from "./trace";
import { numberIn } from "./unit";

type Ctx = CanvasRenderingContext2D;

interface Sheet {
  ctx: Ctx;
  x: Ruler;
  y: Ruler;
  box: uPlot.BBox;
  /** Pixels of the canvas to one of CSS */
  dense: number;
}

function ruler(u: uPlot, scale: "x" | "y"): Ruler {
  const { min, max } = u.scales[scale]!;
  const low = u.valToPos(min!, scale, true);
  const step = (u.valToPos(max!, scale, true) - low) / (max! - min!);
  return { shift: low - step * min!, scale: step };
}

function sheet(u: uPlot): Sheet {
  const { ctx, bbox } = u;
  const dense = ctx.canvas.width / u.width;
  return { ctx, x: ruler(u, "x"), y: ruler(u, "y"), box: bbox, dense };
}

function clipped(u: uPlot, draw: (on: Sheet) => void): void {
  const s = sheet(u);
  s.ctx.save();
  s.ctx.beginPath();
  s.ctx.rect(s.box.left, s.box.top, s.box.width, s.box.height);
  s.ctx.clip();
  draw(s);
  s.ctx.restore();
}

/** Below the grid: parts, events, bands. */
export function drawUnder(u: uPlot, model: Model): void {
  clipped(u, (s) => {
    model.spans.filter((a) => a.look === "part").forEach((part, k) => drawPart(s, model, part, k));
    for (const span of model.spans) if (span.look === "bad") drawBad(s, model, span);
    for (const band of model.bands) drawBand(s, model, band);
  });
}

/** Over the grid: lines, limits, marks. */
export function drawOver(u: uPlot, model: Model): void {
  clipped(u, (s) => {
    for (const span of model.spans) if (span.look === "mark") drawMark(s, model, span);
    for (const limit of model.limits) drawLimit(s, model, limit);
    const columns = new Map<Numbers, Columns>();
    for (const line of model.lines) if (!line.hidden) drawLine(s, model, line, columns);
    for (const limit of model.limits) wordsOf(s, model, limit);
    for (const spot of model.spots) drawSpot(s, model, spot);
  });
}

function drawLine(s: Sheet, model: Model, line: Drawn, columns: Map<Numbers, Columns>): void {
  const { ctx, box, dense } = s;
  let cut = columns.get(line.xs);
  if (!cut) columns.set(line.xs, (cut = columnsOf(line.xs, s.x, box.left, box.width)));
  if (!cut.exact) return drawBars(s, model, line, cut);
  ctx.strokeStyle = ink(line.look.ink);
  ctx.lineWidth = line.look.width * dense;
  ctx.setLineDash(line.look.dash.map((d) => d * dense));
  ctx.lineJoin = "round";
  ctx.beginPath();
  samples(ctx, line.xs, line.pyramid.values, cut, s.x, s.y, model.longest);
  ctx.stroke();
}

/** A long series; a dash would say nothing here. */
function drawBars(s: Sheet, model: Model, line: Drawn, cut: Columns): void {
  const { ctx, dense, y, box } = s;
  const pen = scratchOf(cut.edges.length - 1, Math.ceil(box.height));
  const thick = Math.round(1.6 * dense);
  pen.fillStyle = ink(line.look.ink);
  const put = (column: number, low: number, high: number): void => {
    const top = Math.round(on(y, high) - box.top - thick / 2);
    pen.fillRect(column, top, 1, Math.round(on(y, low) - box.top - thick / 2) - top + thick);
  };
  bars(put, line.xs, line.pyramid, cut, model.longest);
  ctx.drawImage(pen.canvas, cut.start, box.top);
}

let scratch: Ctx | null = null;

/**
 * A canvas kept in plain memory: where the machine draws in software, thousands of small bars take
 * half a second on the plot's own canvas, and a millisecond on this one.
 */
function scratchOf(width: number, height: number): Ctx {
  scratch ??= document.createElement("canvas").getContext("2d", { willReadFrequently: true })!;
  const { canvas } = scratch;
  if (canvas.width !== width || canvas.height !== height) [canvas.width, canvas.height] = [width, height];
  else scratch.clearRect(0, 0, width, height);
  return scratch;
}

function stretch(s: Sheet, model: Model, span: Span): [left: number, wide: number] {
  const from = on(s.x, numberIn(span.from, model.xIn));
  return [from, Math.max(on(s.x, numberIn(span.to, model.xIn)) - from, 2 * s.dense)];
}

/** Every second part of a manoeuvre is tinted. */
function drawPart(s: Sheet, model: Model, span: Span, place: number): void {
  if (place % 2) return;
  const [from, wide] = stretch(s, model, span);
  s.ctx.fillStyle = ink("--faint");
  s.ctx.fillRect(from, s.box.top, wide, s.box.height);
}

function drawBad(s: Sheet, model: Model, span: Span): void {
  const { ctx, box, dense } = s;
  const [left, long] = stretch(s, model, span);
  const from = Math.round(Math.max(left, box.left));
  const wide = Math.round(Math.min(left + long, box.left + box.width)) - from;
  if (wide <= 0) return;
  ctx.fillStyle = ink(wide < 4 * dense ? "--air" : "--air-wash");
  ctx.fillRect(from, box.top, wide, box.height);
  if (wide < 4 * dense) return;
  // Along the top alone: all over, it would be in the way of the lines.
  ctx.fillStyle = hatch(ctx, dense);
  ctx.fillRect(from, box.top, wide, Math.min(14 * dense, box.height));
}

let hatched: { of: string; pattern: CanvasPattern } | null = null;

/** Strokes from one corner of a tile to the other: stroked and clipped each time they are slow. */
function hatch(ctx: Ctx, dense: number): CanvasPattern {
  const of = `${ink("--air")} ${dense}`;
  if (hatched?.of === of) return hatched.pattern;
  const size = Math.round(9 * dense);
  const tile = document.createElement("canvas");
  tile.width = tile.height = size;
  const pen = tile.getContext("2d")!;
  pen.strokeStyle = ink("--air");
  pen.lineWidth = dense;
  for (const shift of [-size, 0, size]) {
    pen.moveTo(shift - 1, size + 1);
    pen.lineTo(shift + size + 1, -1);
  }
  pen.stroke();
  hatched = { of, pattern: ctx.createPattern(tile, "repeat")! };
  return hatched.pattern;
}

function drawMark(s: Sheet, model: Model, span: Span): void {
  const { ctx, box, dense } = s;
  const at = on(s.x, numberIn(span.from, model.xIn));
  ctx.strokeStyle = ctx.fillStyle = ink("--air");
  ctx.lineWidth = 2 * dense;
  ctx.setLineDash([]);
  ctx.beginPath();
  ctx.moveTo(at, box.top);
  ctx.lineTo(at, box.top + box.height);
  ctx.stroke();
  const size = 7 * dense;
  ctx.beginPath();
  ctx.moveTo(at - size, box.top);
  ctx.lineTo(at + size, box.top);
  ctx.lineTo(at, box.top + 1.5 * size);
  ctx.fill();
}

function drawLimit(s: Sheet, model: Model, limit: Limit): void {
  const { ctx, box, dense } = s;
  const at = on(s.y, numberIn(limit.at, model.yIn));
  ctx.strokeStyle = ink(limit.ink ?? (limit.is === "mark" ? "--muted" : "--not-met"));
  ctx.lineWidth = 1.6 * dense;
  ctx.setLineDash(limit.is === "mark" ? [6 * dense, 4 * dense] : []);
  ctx.beginPath();
  ctx.moveTo(box.left, at);
  ctx.lineTo(box.left + box.width, at);
  // Short strokes on the side where it must not go, as on a drawing.
  const side = (limit.is === "least" ? 6 : -6) * dense;
  for (let x = box.left; limit.is !== "mark" && x < box.left + box.width; x += 12 * dense) {
    ctx.moveTo(x + 6 * dense, at);
    ctx.lineTo(x, at + side);
  }
  ctx.stroke();
}

function wordsOf(s: Sheet, model: Model, limit: Limit): void {
  const { box, dense } = s;
  const at = on(s.y, numberIn(limit.at, model.yIn));
  const size = rem(0.8) * dense;
  const above = at - box.top > 1.6 * size && (limit.is !== "most" || box.top + box.height - at < 2 * size);
  const colour = limit.ink ?? (limit.is === "mark" ? "--muted" : "--not-met");
  s.ctx.textBaseline = above ? "bottom" : "top";
  s.ctx.textAlign = "right";
  write(s, limit.words, box.left + box.width - 6 * dense, at + (above ? -3 : 5) * dense, colour);
}

/** Words that can be read over lines. */
function write({ ctx, dense }: Sheet, words: string, x: number, y: number, colour: string): void {
  ctx.font = font(0.8 * dense, 600);
  ctx.setLineDash([]);
  ctx.lineJoin = "round";
  ctx.lineWidth = 5 * dense;
  ctx.strokeStyle = ink("--paper");
  ctx.strokeText(words, x, y);
  ctx.fillStyle = ink(colour);
  ctx.fillText(words, x, y);
}

function drawSpot(s: Sheet, model: Model, spot: Spot): void {
  const { ctx, box, dense } = s;
  const x = on(s.x, numberIn(spot.x, model.xIn));
  const y = on(s.y, numberIn(spot.y, model.yIn));
  ctx.setLineDash([]);
  ctx.beginPath();
  ctx.arc(x, y, 5 * dense, 0, 2 * Math.PI);
  ctx.fillStyle = ink("--paper");
  ctx.fill();
  ctx.lineWidth = 2.5 * dense;
  ctx.strokeStyle = ink(spot.ink ?? "--ink");
  ctx.stroke();
  const left = !spot.under && x > box.left + 0.35 * box.width;
  ctx.textAlign = left ? "right" : "left";
  ctx.textBaseline = spot.under ? "top" : "bottom";
  write(s, spot.words, x + (left ? -9 : 9) * dense, y + (spot.under ? 4 : -4) * dense, spot.ink ?? "--ink");
}

function drawBand(s: Sheet, model: Model, band: DrawnBand): void {
  const { ctx, box } = s;
  const columns = columnsOf(model.xs, s.x, box.left, box.width);
  const high = edgeOf(s, model.xs, band.high, columns, "high");
  const low = edgeOf(s, model.xs, band.low, columns, "low");
  ctx.fillStyle = ink(band.ink);
  ctx.globalAlpha = 0.16;
  ctx.beginPath();
  for (const [x, y] of high) ctx.lineTo(x, y);
  for (const [x, y] of low.reverse()) ctx.lineTo(x, y);
  ctx.fill();
  ctx.globalAlpha = 1;
}

type Place = [x: number, y: number];

function edgeOf(
  s: Sheet,
  xs: Numbers,
  edge: Pyramid | number,
  columns: Columns,
  side: "low" | "high",
): Place[] {
  if (typeof edge === "number") {
    const at = on(s.y, edge);
    return [[s.box.left, at], [s.box.left + s.box.width, at]];
  }
  const places: Place[] = [];
  const put = (x: number, value: number): void => {
    if (!Number.isNaN(value)) places.push([x, on(s.y, value)]);
  };
  if (columns.exact) {
    for (let i = columns.from; i < columns.to; i += 1) put(on(s.x, xs[i]!), edge.values[i]!);
    return places;
  }
  for (let k = 0; k + 1 < columns.edges.length; k += 1) {
    edge.look(columns.edges[k]!, columns.edges[k + 1]!);
    put(columns.start + k + 0.5, edge[side]);
  }
  return places;
}
