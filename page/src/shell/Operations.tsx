// SPDX-License-Identifier: Apache-2.0
// The operations in the order of the work, each with its stamp; the open one shows its ledger.

import { useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { OPERATIONS, type Operation } from "../operation";
import { operation } from "../state";
import { bringInSight } from "./bring";
import { LedgerLine } from "./Line";
import { Mark } from "./Mark";
import { entriesOf, stampOf, type Stamp } from "./standing";

const FEW = 6;

export function StampMark({ stamp }: { stamp: Stamp }) {
  return (
    <span class={`stamp is-${stamp.stand.replace(" ", "-")}`}>
      <Mark stand={stamp.stand} />
      <span class="stamp-word">{stamp.word}</span>
    </span>
  );
}

function Lines({ of }: { of: string }) {
  const all = useSignal(false);
  const own = entriesOf(of);
  if (!own.length) return null;
  const wrong = own.filter((e) => e.line.state !== "met").length;
  const few = own.slice(0, all.value ? undefined : Math.max(FEW, wrong));
  return (
    <div class="lines">
      {few.map((entry) => (
        <LedgerLine key={entry.line.id} {...entry} />
      ))}
      {few.length < own.length && (
        <button class="plain" onClick={() => (all.value = true)}>
          All {own.length} lines
        </button>
      )}
    </div>
  );
}

function Row({ of, chosen }: { of: Operation; chosen: () => void }) {
  const open = operation.value === of.id;
  return (
    <li class={open ? "is-open" : ""}>
      <a class="row" href={`#/${of.id}`} aria-current={open ? "page" : undefined} onClick={chosen}>
        <span class="row-number">{of.number}</span>
        <span class="row-words">
          <span class="row-word">{of.word}</span>
          <span class="row-asks">{of.asks}</span>
        </span>
        <StampMark stamp={stampOf(of.id)} />
      </a>
      {open && <Lines of={of.id} />}
    </li>
  );
}

/** Up and down go from row to row, as the card is read. */
function step(event: KeyboardEvent): void {
  const by = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  const here = (event.target as Element).closest(".row");
  if (!by || !here) return;
  const rows = [...document.querySelectorAll<HTMLElement>(".operations .row")];
  rows[rows.indexOf(here as HTMLElement) + by]?.focus();
  event.preventDefault();
}

export function Operations({ chosen }: { chosen: () => void }) {
  const place = useRef<HTMLElement>(null);
  useEffect(() => {
    bringInSight(place.current?.closest(".card-scroll"), place.current?.querySelector(".is-open > .row"));
  }, [operation.value]);
  return (
    <nav ref={place} aria-label="Operations" onKeyDown={step}>
      <ol class="operations">
        {OPERATIONS.map((of) => (
          <Row key={of.id} of={of} chosen={chosen} />
        ))}
      </ol>
    </nav>
  );
}
