// SPDX-License-Identifier: Apache-2.0
// The key of a chart: each line as it is drawn, its name, and its value at the cursor.

import { useComputed, useSignal, type Signal } from "@preact/signals";
import type { Look } from "./ink";
import type { Link } from "./link";
import { valueAt, type Drawn, type Model } from "./model";
import { fixed, numberIn, saidShown } from "./unit";

interface KeyProps {
  model: Model;
  link: Link;
  hidden: Signal<ReadonlySet<string>>;
}

export function Key({ model, link, hidden }: KeyProps) {
  if (model.lines.length === 1) {
    return (
      <span class="chart-key chart-key-one">
        <Value line={model.lines[0]!} model={model} link={link} />
      </span>
    );
  }
  const toggle = (name: string): void => {
    const next = new Set(hidden.value);
    if (!next.delete(name)) next.add(name);
    hidden.value = next;
  };
  return (
    <span class="chart-key" role="group" aria-label="Lines">
      {model.lines.map((line) => (
        <button
          type="button"
          class="chart-line plain"
          role="switch"
          aria-checked={!line.hidden}
          title={line.hidden ? "Show this line" : "Hide this line"}
          onClick={() => toggle(line.name)}
          key={line.name}
        >
          <Swatch look={line.look} />
          <span class="chart-name">{line.name}</span>
          <Value line={line} model={model} link={link} />
        </button>
      ))}
    </span>
  );
}

export function Swatch({ look }: { look: Look }) {
  return (
    <svg class="chart-swatch" viewBox="0 0 34 10" aria-hidden="true">
      <line
        x1="1"
        x2="33"
        y1="5"
        y2="5"
        stroke={`var(${look.ink})`}
        stroke-width={look.width + 0.5}
        stroke-dasharray={look.dash.join(" ")}
      />
    </svg>
  );
}

/** At the cursor; without one, from the least to the most. */
function Value({ line, model, link }: { line: Drawn; model: Model; link: Link }) {
  const now = useSignal({ line, model });
  now.value = { line, model };
  const text = useComputed(() => {
    const at = link.at.value;
    const { line, model } = now.value;
    if (at === null) return rangeWords(line, model);
    return saidShown(valueAt(line, numberIn(at, model.xIn), model.longest), model.yIn);
  });
  return <span class="chart-value">{text}</span>;
}

function rangeWords(line: Drawn, model: Model): string {
  const { pyramid } = line;
  pyramid.look(0, pyramid.values.length);
  const { low, high } = pyramid;
  if (Number.isNaN(low)) return "no values";
  const most = saidShown(high, model.yIn);
  const same = saidShown(low, model.yIn) === most;
  const decimals = /[.](\d+)/.exec(most)?.[1]?.length ?? 0;
  return same ? most : `${fixed(low, decimals)} to ${most}`;
}
