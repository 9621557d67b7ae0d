// SPDX-License-Identifier: Apache-2.0
// A chart in words, for whoever does not see it.

import { valueAt, type ChartProps, type Model } from "./model";
import { nameOf, numberIn, saidIn, saidShown } from "./unit";

/** What the chart shows: its lines from least to most, its limits, its events. */
export function summaryWords(props: ChartProps, model: Model): string {
  const { x, xIn, yIn } = props;
  if (!x.length) return `${props.title}: nothing to show.`;
  const unit = nameOf(yIn);
  const said = [`${props.title}${unit ? ` [${unit}]` : ""} over ${props.xWords}`];
  said[0] += `, ${saidIn(x[0], xIn)} to ${saidIn(x[x.length - 1], xIn)}`;
  for (const { name, pyramid } of model.lines) {
    pyramid.look(0, pyramid.values.length);
    const empty = Number.isNaN(pyramid.low);
    const ends = `from ${saidShown(pyramid.low, yIn)} to ${saidShown(pyramid.high, yIn)}`;
    said.push(`${name}: ${empty ? "no values" : ends}`);
  }
  for (const limit of props.limits ?? []) said.push(`Limit: ${limit.words}`);
  for (const band of props.bands ?? []) said.push(`Band: ${band.words}`);
  const events = (props.spans ?? []).slice(0, 12);
  for (const span of events) {
    const end = span.look === "mark" ? "" : ` to ${saidIn(span.to, xIn)}`;
    said.push(`${span.words}: ${saidIn(span.from, xIn)}${end}`);
  }
  const more = (props.spans?.length ?? 0) - events.length;
  if (more > 0) said.push(`and ${more} more events`);
  return `${said.join(". ")}.`;
}

/** Where the cursor is, and the value of every line there. */
export function cursorWords(model: Model, at: number | null): string {
  if (at === null) return "no cursor";
  const said = [saidIn(at, model.xIn)];
  for (const line of model.lines) {
    if (line.hidden) continue;
    const value = valueAt(line, numberIn(at, model.xIn), model.longest);
    said.push(`${line.name} ${value === null ? "no value" : saidShown(value, model.yIn)}`);
  }
  return said.join(", ");
}
