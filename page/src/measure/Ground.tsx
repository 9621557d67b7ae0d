// SPDX-License-Identifier: Apache-2.0
// What hangs lowest: crossmember, new pan, stock pan over the ground, to scale.

import { shown } from "../shown";
import { ledger } from "../state";
import type { Clearance } from "./answer";

const [WIDE, TALL, FLOOR] = [680, 262, 214];

interface Block {
  words: string;
  lowest: number;
  bump: number | null;
  ink: string;
}

function blocksOf(room: Clearance): Block[] {
  const found: Block[] = [];
  const { guard, stock } = room;
  if (guard)
    found.push({ words: guard.obstacle, lowest: guard.obstacle_lowest_m, bump: null, ink: "--obstacle" });
  if (room.ground_m !== null)
    found.push({ words: room.name, lowest: room.ground_m, bump: room.ground_at_bump_m, ink: "--new" });
  if (stock && stock.ground_m !== null)
    found.push({ words: stock.name, lowest: stock.ground_m, bump: stock.ground_at_bump_m, ink: "--stock" });
  return found;
}

export function Ground({ room }: { room: Clearance }) {
  const blocks = blocksOf(room);
  if (!blocks.length) return null;
  const asked = ledger.value.find((l) => l.id === "ground")?.limit ?? null;
  const high = 1.3 * Math.max(...blocks.map((b) => b.lowest), asked ?? 0);
  const at = (height: number): number => FLOOR - ((FLOOR - 16) * height) / high;
  const wide = WIDE / blocks.length;
  return (
    <figure class="ground">
      <figcaption>
        <h3>What hangs lowest over the ground</h3>
        <Says room={room} />
      </figcaption>
      <svg viewBox={`0 0 ${WIDE} ${TALL}`} role="img" aria-label={wordsOf(blocks)}>
        {asked !== null && (
          <path d={`M0 ${at(asked)}H${WIDE}M4 ${FLOOR + 28}h34`} class="ground-asked" />
        )}
        {blocks.map((block, k) => (
          <Hanging block={block} left={k * wide} wide={wide} at={at} asked={asked} key={block.words} />
        ))}
        <path d={`M0 ${FLOOR}H${WIDE}`} class="ground-line" />
        <path d={Array.from({ length: 46 }, (_, k) => `M${k * 15 + 8} ${FLOOR}l-9 9`).join("")} class="ground-hatch" />
        {asked !== null && (
          <text x="46" y={FLOOR + 33} class="ground-word">
            asked for at ride height: {shown(asked, "length")}
          </text>
        )}
      </svg>
    </figure>
  );
}

interface HangingProps {
  block: Block;
  left: number;
  wide: number;
  at: (h: number) => number;
  asked: number | null;
}

function Hanging({ block, left, wide, at, asked }: HangingProps) {
  const { lowest, bump } = block;
  const under = at(lowest) + 22;
  const line = asked === null ? -99 : at(asked);
  const size = Math.abs(line - (under - 7)) < 13 ? line + 22 : under; // not across the line
  const middle = left + wide / 2;
  const edge = wide * 0.36;
  return (
    <g>
      <path
        d={`M${middle - edge} 8V${at(lowest) - 14}q0 14 14 14H${middle + edge - 14}q14 0 14 -14V8`}
        stroke={`var(${block.ink})`}
        class="ground-block"
      />
      <text x={middle} y="34" text-anchor="middle" class="ground-name">
        {block.words}
      </text>
      <text x={middle} y={size} text-anchor="middle" class="ground-size">
        {shown(lowest, "length")}
      </text>
      {bump !== null && (
        <>
          <path d={`M${middle - edge} ${at(bump)}H${middle + edge}`} class="ground-bump" />
          <text x={middle} y={at(bump) - 5} text-anchor="middle">
            {shown(bump, "length")} at full bump
          </text>
        </>
      )}
    </g>
  );
}

function Says({ room }: { room: Clearance }) {
  const { guard } = room;
  if (!guard) return null;
  const size = shown(Math.abs(guard.margin_m), "length");
  return (
    <p>
      {guard.margin_m >= 0
        ? `The ${guard.obstacle} hangs ${size} lower than the pan, as it should: it meets a kerb first`
        : `The pan hangs ${size} lower than the ${guard.obstacle}: it meets a kerb first`}
      . Worst under {guard.case}.
    </p>
  );
}

const wordsOf = (blocks: readonly Block[]): string =>
  blocks
    .map((b) => `${b.words}: ${shown(b.lowest, "length")} over the ground${b.bump === null ? "" : `, ${shown(b.bump, "length")} at full bump`}`)
    .join(". ");
