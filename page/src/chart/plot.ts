// SPDX-License-Identifier: Apache-2.0
// The plot of one chart: axes and canvas are uPlot's, what stands on them is drawn here.

import uPlot from "uplot";
import { drawOver, drawUnder } from "./draw";
import { font, ink, rem } from "./ink";
import type { Window } from "./link";
import { valueAt, type Model } from "./model";
import { fixed, nameOf, numberIn } from "./unit";

/** Width of the scale on the left: one for all charts, so that a stack lines up. */
const LEFT = 3.5;

/** Air on the right for half a number, as large as a person has letters; chart.css has it as well. */
const RIGHT = 1.8;

/** Decimals that the step of a scale needs. */
function decimals(step: number): number {
  for (let k = 0; k < 8; k += 1) {
    const whole = step * 10 ** k;
    if (Math.abs(whole - Math.round(whole)) < 1e-6 * whole) return k;
  }
  return 8;
}

export class Plot {
  private readonly u: uPlot;
  private readonly line = document.createElement("div");
  private readonly box = document.createElement("div");
  private readonly dots: HTMLElement[] = [];
  private model: Model;
  private window: Window;

  constructor(place: HTMLElement, model: Model, window: Window, high: number) {
    this.model = model;
    this.window = this.inShown(window);
    const size = { width: Math.max(place.clientWidth, 120), height: high };
    this.u = new uPlot({ ...size, ...this.options() }, [[0, 1]], place);
    this.line.className = "chart-cursor";
    this.box.className = "chart-box";
    this.line.hidden = this.box.hidden = true;
    this.u.over.append(this.line, this.box);
    this.look(window);
  }

  /** What pointers fall on. */
  get over(): HTMLElement {
    return this.u.over;
  }

  destroy(): void {
    this.u.destroy();
  }

  size(width: number, height: number): void {
    if (width > 0 && (width !== this.u.width || height !== this.u.height)) {
      this.u.setSize({ width, height });
    }
  }

  show(model: Model, window: Window): void {
    this.model = model;
    this.look(window);
  }

  look(window: Window): void {
    this.window = this.inShown(window);
    const [low, high] = this.model.y;
    this.u.batch(() => {
      this.u.setScale("x", { min: this.window[0], max: this.window[1] });
      this.u.setScale("y", { min: low, max: high });
      this.u.redraw(false, true);
    });
  }

  /** Puts the line, and a dot on each line, at `x` of the data. */
  cursor(x: number | null): void {
    const shown = x === null ? NaN : numberIn(x, this.model.xIn);
    const inside = shown >= this.window[0] && shown <= this.window[1];
    this.line.hidden = !inside;
    if (inside) this.line.style.transform = `translateX(${this.u.valToPos(shown, "x")}px)`;
    this.model.lines.forEach((line, k) => {
      const value = inside && !line.hidden ? valueAt(line, shown, this.model.longest) : null;
      this.dot(k, line.look.ink, shown, value);
    });
    for (const dot of this.dots.slice(this.model.lines.length)) dot.hidden = true;
  }

  /** x of the data under a pixel of the plot. */
  xAt(left: number): number {
    const { min, max } = this.u.scales["x"]!;
    const wide = this.u.over.clientWidth || 1;
    const shown = min! + (left / wide) * (max! - min!);
    const zero = numberIn(0, this.model.xIn);
    return (shown - zero) / (numberIn(1, this.model.xIn) - zero);
  }

  /** The stretch being drawn with the pointer, in pixels of the plot; null: none. */
  stretch(ends: readonly [number, number] | null): void {
    this.box.hidden = ends === null;
    if (!ends) return;
    this.box.style.left = `${Math.min(...ends)}px`;
    this.box.style.width = `${Math.abs(ends[1] - ends[0])}px`;
  }

  private dot(place: number, colour: string, x: number, value: number | null): void {
    let dot = this.dots[place];
    if (!dot) {
      this.dots.push((dot = document.createElement("div")));
      dot.className = "chart-dot";
      this.u.over.append(dot);
    }
    dot.hidden = value === null;
    if (value === null) return;
    dot.style.color = `var(${colour})`;
    dot.style.transform = `translate(${this.u.valToPos(x, "x")}px, ${this.u.valToPos(value, "y")}px)`;
  }

  private inShown([from, to]: Window): Window {
    return [numberIn(from, this.model.xIn), numberIn(to, this.model.xIn)];
  }

  private options(): Omit<uPlot.Options, "width" | "height"> {
    return {
      series: [{}],
      scales: {
        x: { time: false, range: () => [...this.window] },
        y: { auto: false, range: () => [...this.model.y] },
      },
      axes: [this.foot(), this.side()],
      padding: [6, rem(RIGHT), this.model.foot ? 0 : 2, 0],
      legend: { show: false },
      cursor: { show: false },
      select: { show: false, left: 0, top: 0, width: 0, height: 0 },
      hooks: {
        drawClear: [(u) => drawUnder(u, this.model)],
        draw: [(u) => drawOver(u, this.model)],
      },
    };
  }

  private foot(): uPlot.Axis {
    const { foot, xWords, xIn } = this.model;
    const unit = nameOf(xIn);
    const common = { ...this.axis(), scale: "x", space: rem(4) };
    if (!foot) return { ...common, size: 4, values: () => [] };
    const label = unit ? `${xWords} [${unit}]` : xWords;
    return { ...common, size: rem(1.7), label, labelSize: rem(1.5), labelFont: font(0.85) };
  }

  private side(): uPlot.Axis {
    return { ...this.axis(), scale: "y", side: 3, size: rem(LEFT), space: rem(1.9) };
  }

  private axis(): uPlot.Axis {
    return {
      font: font(0.8),
      stroke: () => ink("--ink"),
      gap: 4,
      grid: { stroke: () => ink("--rule"), width: 1 },
      ticks: { stroke: () => ink("--rule"), width: 1, size: 4 },
      values: (_u, splits, _k, _space, step) => splits.map((v) => fixed(v, decimals(step))),
    };
  }
}
