// SPDX-License-Identifier: Apache-2.0
// Events over a plot, each a key at its place; one stop for Tab, arrows go from one to the next.

import { useRef } from "preact/hooks";
import type { Link } from "./link";
import type { ChartProps, Span } from "./model";
import { saidIn } from "./unit";

type SpansProps = ChartProps & { link: Link };

export function Spans({ spans = [], onSpan, chosen, link, xIn }: SpansProps) {
  const row = useRef<HTMLDivElement>(null);
  const [from, to] = link.shown;
  const events = spans.map((span, k) => ({ span, k })).filter(({ span }) => span.look !== "part");
  const inView = events.filter(({ span }) => span.to >= from && span.from <= to);
  const stop = inView.find(({ k }) => k === chosen)?.k ?? inView[0]?.k;
  const step = (event: KeyboardEvent): void => {
    const keys = [...(row.current?.querySelectorAll("button") ?? [])];
    const here = keys.indexOf(document.activeElement as HTMLButtonElement);
    const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (by === undefined || here < 0) return;
    event.preventDefault();
    keys[here + by]?.focus();
  };
  return (
    <div class="chart-spans" ref={row} role="group" aria-label="Events" onKeyDown={step}>
      {inView.map(({ span, k }) => (
        <button
          type="button"
          key={k}
          class="chart-span"
          tabIndex={k === stop ? 0 : -1}
          aria-current={k === chosen ? "true" : undefined}
          aria-label={`${span.words}, at ${saidIn(span.from, xIn)}`}
          title={span.words}
          ref={(element) => place(element, span, from, to)}
          onClick={() => onSpan?.(k)}
        />
      ))}
    </div>
  );
}

function place(element: HTMLElement | null, span: Span, from: number, to: number): void {
  if (!element) return;
  const share = (x: number): number => Math.min(Math.max((x - from) / (to - from), 0), 1);
  element.style.setProperty("--from", String(share(span.from)));
  element.style.setProperty("--long", String(share(Math.max(span.to, span.from)) - share(span.from)));
}
