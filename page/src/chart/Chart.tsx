// SPDX-License-Identifier: Apache-2.0
// A line chart: title with unit, a key that reads out the lines at the cursor, the plot, its events.

import { effect, useComputed, useSignal, useSignalEffect } from "@preact/signals";
import { useEffect, useLayoutEffect, useMemo, useRef } from "preact/hooks";
import "uplot/dist/uPlot.min.css";
import "./chart.css";
import { Gestures, keyed } from "./gesture";
import { rem, theme } from "./ink";
import { Key } from "./Key";
import { Link } from "./link";
import { modelOf, type ChartProps, type Model } from "./model";
import { Plot } from "./plot";
import { Spans } from "./Spans";
import { nameOf } from "./unit";
import { cursorWords, summaryWords } from "./words";
import { ZoomKeys } from "./ZoomKeys";

export function Chart(props: ChartProps) {
  const { title, yIn, high = 11, zooms = true } = props;
  const own = useMemo(() => new Link(), []);
  const link = props.link ?? own;
  const hidden = useSignal<ReadonlySet<string>>(new Set());
  const model = modelOf(props, hidden.value);
  const events = (props.spans ?? []).some((s) => s.look !== "part") && props.onSpan;
  const unit = nameOf(yIn);
  return (
    <figure class="chart">
      <figcaption class="chart-head">
        <span class="chart-title">
          {title}
          {unit && <span class="chart-unit"> [{unit}]</span>}
        </span>
        <Key model={model} link={link} hidden={hidden} />
        {!props.link && zooms && <ZoomKeys link={link} />}
      </figcaption>
      {events && <Spans {...props} link={link} />}
      <Place props={props} model={model} link={link} high={high} zooms={zooms} />
      <p class="unseen">{summaryWords(props, model)}</p>
      {props.children}
    </figure>
  );
}

/** What the scale below a plot takes, in rem. */
const FOOT = 3;

interface PlaceProps {
  props: ChartProps;
  model: Model;
  link: Link;
  high: number;
  zooms: boolean;
}

/** The plot itself: a slider to the keyboard and to whoever reads it aloud. */
function Place({ props, model, link, high, zooms }: PlaceProps) {
  const place = useRef<HTMLDivElement>(null);
  const plot = usePlot(place, model, link, high, zooms, props.x);
  const says = useComputed(() => cursorWords(model, link.at.value));
  const ends = link.whole.value;
  useSignalEffect(() => {
    const at = link.at.value;
    plot.current?.cursor(at);
    if (!place.current || place.current !== document.activeElement) return;
    place.current.setAttribute("aria-valuenow", String(at ?? link.whole.peek()[0]));
    place.current.setAttribute("aria-valuetext", says.value);
  });
  return (
    <div
      class="chart-plot"
      ref={place}
      tabIndex={0}
      role="slider"
      aria-label={`${props.title}: cursor`}
      aria-valuemin={ends[0]}
      aria-valuemax={ends[1]}
      aria-valuenow={ends[0]}
      onKeyDown={(event) => {
        if (!keyed(event, link, zooms)) return;
        event.preventDefault();
        event.stopPropagation();
      }}
    />
  );
}

function usePlot(
  place: { current: HTMLDivElement | null },
  model: Model,
  link: Link,
  high: number,
  zooms: boolean,
  x: ArrayLike<number>,
) {
  const plot = useRef<Plot | null>(null);
  const baked = `${model.foot} ${model.xWords} ${nameOf(model.xIn)} ${high}`;
  useEffect(() => {
    link.join(plot, x.length ? [x[0]!, x[x.length - 1]!] : null);
    return () => link.join(plot, null);
  }, [link, x]);
  useLayoutEffect(() => {
    const element = place.current;
    if (!element) return;
    const tall = (): number => rem(high + (model.foot ? FOOT : 0));
    const made = new Plot(element, model, link.shown, tall());
    plot.current = made;
    new Gestures(made, link, zooms);
    const sized = new ResizeObserver(() => made.size(element.clientWidth, tall()));
    sized.observe(element);
    return () => {
      sized.disconnect();
      made.destroy();
      plot.current = null;
    };
  }, [link, baked, zooms]);
  useLayoutEffect(() => plot.current?.show(model, link.shown));
  // At once, not with the next frame: a printer does not wait for one.
  useLayoutEffect(
    () =>
      effect(() => {
        void theme.value;
        const window = link.shown;
        plot.current?.look(window);
        plot.current?.cursor(link.at.peek());
      }),
    [link],
  );
  return plot;
}
