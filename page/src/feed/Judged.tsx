// SPDX-License-Identifier: Apache-2.0
// The judged points, hot and cold, and the cold start.

import { Mark } from "../shell/Mark";
import { shown } from "../shown";
import { ledger } from "../state";
import type { Allowed, Feed, FeedPoint } from "./answer";

/** `none` where the pump cannot draw that flow at all. */
export const left = (pressure: number): string => (pressure < 0 ? "none" : shown(pressure, "inlet_pressure"));

export function Judged({ feed }: { feed: Feed }) {
  return (
    <>
      <div class="feed-judged">
        <Point words="Hot" id="inlet_hot" point={feed.hot} stock={feed.stock?.hot ?? null} />
        {feed.cold && <Point words="Cold" id="inlet_cold" point={feed.cold} stock={feed.stock?.cold ?? null} />}
        <Start feed={feed} />
      </div>
      {feed.cautions.map((said) => (
        <p class="note" key={said}>
          {said}
        </p>
      ))}
    </>
  );
}

interface PointProps {
  words: string;
  id: string;
  point: FeedPoint;
  stock: FeedPoint | null;
}

function Point({ words, id, point, stock }: PointProps) {
  const line = ledger.value.find((l) => l.id === id);
  const stand = line?.state ?? "not judged";
  return (
    <section class={`feed-point${stand === "not met" ? " not-met" : ""}`}>
      <h2 class="feed-head">
        {words}, {shown(point.temperature_k, "temperature")}, {point.rpm.toFixed(0)} rpm
      </h2>
      <p class="feed-left">
        <Mark stand={stand} />
        <span>
          <b class="figure">{left(point.inlet_pa)}</b> left at the pump
        </span>
      </p>
      <p class="quiet">
        {stand}; needed {shown(point.needed_pa, "inlet_pressure")}
        {stock && `; stock pan ${left(stock.inlet_pa)}`}
      </p>
    </section>
  );
}

/** How cold the oil may be. */
function Start({ feed }: { feed: Feed }) {
  return (
    <section class="feed-point">
      <h2 class="feed-head">How cold it may be</h2>
      <dl class="facts">
        <dt>For a short time</dt>
        <dd>{coldest(feed, feed.short)}</dd>
        <dt>For good</dt>
        <dd>{coldest(feed, feed.continuous)}</dd>
      </dl>
    </section>
  );
}

function coldest(feed: Feed, allowed: Allowed): string {
  if (allowed.coldest_k === null) return "kept at no temperature looked at";
  const ends: [number, number | null][] = [
    [feed.rpm[0]!, allowed.coldest_k],
    [feed.rpm[feed.rpm.length - 1]!, allowed.full_speed_k],
  ];
  const said = ends.map(([rpm, t]) => {
    if (t === null) return `never at ${rpm.toFixed(0)} rpm`;
    const least = t <= feed.temperature_k[0]! ? " at least" : "";
    return `down to ${shown(t, "temperature")}${least} at ${rpm.toFixed(0)} rpm`;
  });
  return said.join(", ");
}
