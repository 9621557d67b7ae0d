// SPDX-License-Identifier: Apache-2.0
// Where the pressure goes: at the judged points, and at any other that the answer looked at.

import { useSignal } from "@preact/signals";
import { useId } from "preact/hooks";
import { fixed } from "../chart";
import { shown, shownNumber, unitName, unitRow } from "../shown";
import { ITEMS, type Feed } from "./answer";
import { left } from "./Judged";

interface Bar {
  words: string;
  temperature: number;
  rpm: number;
  pieces: { words: string; much: number; style: number }[];
  /** What may be taken before the inlet has less than it needs */
  most: number;
  inlet: number;
}

const HEIGHT = { words: "height of the pump", style: 0 };
/** Less than this has no piece of its own in the bar [Pa]. */
const LEAST = 50;

interface Source extends Record<(typeof ITEMS)[number][0], number> {
  temperature_k: number;
  rpm: number;
  ambient_pa: number;
  head_pa: number;
  inlet_pa: number;
  needed_pa: number;
}

function barOf(words: string, point: Source): Bar {
  const taken = ITEMS.map(([key, name], k) => ({ words: name as string, much: point[key], style: k + 1 }));
  const head = -point.head_pa;
  return {
    words,
    temperature: point.temperature_k,
    rpm: point.rpm,
    pieces: [...(head > 0 ? [{ ...HEIGHT, much: head }] : []), ...taken].filter((p) => p.much > 0),
    most: point.ambient_pa + Math.max(point.head_pa, 0) - point.needed_pa,
    inlet: point.inlet_pa,
  };
}

/** The table's own row and column as a point. */
function pointAt(feed: Feed, row: number, column: number): Source {
  const at = (table: number[][]): number => table[row]![column]!;
  const losses = Object.fromEntries(ITEMS.map(([key]) => [key, at(feed[key])])) as Record<
    (typeof ITEMS)[number][0],
    number
  >;
  return {
    ...losses,
    temperature_k: feed.temperature_k[row]!,
    rpm: feed.rpm[column]!,
    ambient_pa: feed.ambient_pa,
    head_pa: at(feed.head_pa),
    inlet_pa: at(feed.inlet_pa),
    needed_pa: feed.short.needed_pa,
  };
}

export function Budget({ feed }: { feed: Feed }) {
  const row = useSignal(Math.min(4, feed.temperature_k.length - 1));
  const column = useSignal(feed.rpm.length >> 1);
  const bars = [barOf("Hot", feed.hot), ...(feed.cold ? [barOf("Cold", feed.cold)] : [])];
  const chosen = barOf("As chosen", pointAt(feed, row.value, column.value));
  const end = Math.max(...[...bars, chosen].map((b) => Math.max(b.most, total(b))), 1);
  const kept = Math.min(end, 1.15 * feed.ambient_pa);
  return (
    <>
      {bars.map((bar) => (
        <BarRow bar={bar} end={kept} key={bar.words} />
      ))}
      <Pick feed={feed} row={row} column={column} />
      <BarRow bar={chosen} end={kept} />
      <BudgetTable bars={[...bars, chosen]} />
    </>
  );
}

const total = (bar: Bar): number => bar.pieces.reduce((sum, piece) => sum + piece.much, 0);

function Pick({ feed, row, column }: { feed: Feed; row: { value: number }; column: { value: number } }) {
  const [t, n] = [useId(), useId()];
  return (
    <div class="feed-pick on-screen">
      <p>
        <label for={t}>Oil at {shown(feed.temperature_k[row.value], "temperature")}</label>
        <input
          id={t}
          type="range"
          min={0}
          max={feed.temperature_k.length - 1}
          value={row.value}
          aria-valuetext={shown(feed.temperature_k[row.value], "temperature")}
          onInput={(event) => (row.value = Number(event.currentTarget.value))}
        />
      </p>
      <p>
        <label for={n}>Engine at {feed.rpm[column.value]!.toFixed(0)} rpm</label>
        <input
          id={n}
          type="range"
          min={0}
          max={feed.rpm.length - 1}
          value={column.value}
          aria-valuetext={`${feed.rpm[column.value]!.toFixed(0)} rpm`}
          onInput={(event) => (column.value = Number(event.currentTarget.value))}
        />
      </p>
    </div>
  );
}

function BarRow({ bar, end }: { bar: Bar; end: number }) {
  const share = (pascal: number): number => (100 * pascal) / end;
  let at = 0;
  return (
    <div class="feed-bar">
      <p>
        <b>{bar.words}</b>: {shown(bar.temperature, "temperature")}, {bar.rpm.toFixed(0)} rpm. Left{" "}
        <b>{left(bar.inlet)}</b>
      </p>
      <div class="feed-way" aria-hidden="true">
        {bar.pieces
          .filter((p) => p.much >= LEAST)
          .map((piece) => {
            const from = at;
            at += piece.much;
            const style = { left: `${share(from)}%`, width: `${Math.max(share(piece.much), 0.2)}%` };
            return <span class={`feed-piece piece-${piece.style}`} style={style} key={piece.words} />;
          })}
        {bar.most > 0 && <span class="feed-most" style={{ left: `${Math.min(share(bar.most), 100)}%` }} />}
      </div>
    </div>
  );
}

function BudgetTable({ bars }: { bars: readonly Bar[] }) {
  const names = [HEIGHT.words, ...ITEMS.map(([, name]) => name)];
  const decimals = unitRow("inlet_pressure")[3];
  const number = (much: number): string => fixed(shownNumber(much, "inlet_pressure"), decimals);
  const used = names.map((name, style) => ({ name, style })).filter(({ name }) => bars.some((b) => b.pieces.some((p) => p.words === name)));
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label="What takes the pressure">
      <table class="feed-table">
        <thead>
          <tr>
            <th scope="col">Takes [{unitName("inlet_pressure")}]</th>
            {bars.map((bar) => (
              <th scope="col" class="num" key={bar.words}>
                {bar.words}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {used.map(({ name, style }) => (
            <tr key={name}>
              <th scope="row">
                <span class={`feed-swatch piece-${style}`} aria-hidden="true" />
                {name}
              </th>
              {bars.map((bar) => (
                <td class="num" key={bar.words}>
                  {number(bar.pieces.find((p) => p.words === name)?.much ?? 0)}
                </td>
              ))}
            </tr>
          ))}
          <tr>
            <th scope="row">
              <span class="feed-swatch feed-most-key" aria-hidden="true" />
              may take at most
            </th>
            {bars.map((bar) => (
              <td class="num" key={bar.words}>
                {number(bar.most)}
              </td>
            ))}
          </tr>
        </tbody>
      </table>
    </div>
  );
}
