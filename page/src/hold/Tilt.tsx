// SPDX-License-Identifier: Apache-2.0
// The pan with its oil beside the pad that tilts it.

import { type Signal, useComputed, useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ledger } from "../state";
import { type Accel, REST, toward } from "../view/pad";
import { PanView } from "../view/PanView";
import { type PadTarget, TiltPad } from "../view/TiltPad";
import { type Mode, useTilting } from "../view/tilting";
import { type PanHold, held } from "./answer";
import { accelWords, gText, Readout } from "./Readout";

/** g of the pad's edge where no hold says how far was looked. */
const MOST = 1.6;

export const WAYS = [
  { way: "left", word: "Left turn", degrees: 90 },
  { way: "right", word: "Right turn", degrees: 270 },
  { way: "brake", word: "Braking", degrees: 180 },
  { way: "accelerate", word: "Accelerating", degrees: 0 },
] as const;

const MODES: readonly { mode: Mode; word: string; says: string }[] = [
  { mode: "settled", word: "Settled", says: "The oil has found one level through windows, doors and gaps: what the static limits are about." },
  { mode: "sudden", word: "Sudden", says: "The first moment: each compartment still has what it had at rest. The times below say how long that lasts." },
];

function targets(): PadTarget[] {
  return WAYS.flatMap(({ way, degrees }) => {
    const asked = ledger.value.find((line) => line.id === `hold_${way}`)?.limit;
    return asked == null ? [] : [{ degrees, g: asked }];
  });
}

function Modes({ mode }: { mode: Signal<Mode> }) {
  return (
    <>
      <div class="pan-row" role="group" aria-label="How long it has lasted">
        {MODES.map((m) => (
          <button type="button" key={m.mode} aria-pressed={mode.value === m.mode} onClick={() => (mode.value = m.mode)}>
            {m.word}
          </button>
        ))}
      </div>
      <p class="quiet pad-says">{MODES.find((m) => m.mode === mode.value)?.says}</p>
    </>
  );
}

/** To a limit at one touch. */
function Jumps({ hold, at }: { hold: PanHold | null; at: Signal<Accel> }) {
  return (
    <div class="pan-row" role="group" aria-label="Go to">
      <button type="button" class="plain" onClick={() => (at.value = REST)}>
        rest
      </button>
      {hold &&
        WAYS.map(({ way, word, degrees }) => (
          <button type="button" class="plain" key={way} onClick={() => (at.value = toward(degrees, hold[`${way}_g`]))}>
            {word.toLowerCase().replace(" turn", "")} {gText(hold[`${way}_g`])}
          </button>
        ))}
    </div>
  );
}

function PadKey({ hold, asked }: { hold: PanHold | null; asked: boolean }) {
  if (!hold) return null;
  return (
    <ul class="pad-key">
      <li>
        <svg viewBox="0 0 36 20" aria-hidden="true">
          <path class="pad-limit" d="M1 10H35" />
        </svg>
        {hold.name} holds to here
      </li>
      {hold.stock && (
        <li>
          <svg viewBox="0 0 36 20" aria-hidden="true">
            <path class="pad-stock" d="M1 10H35" />
          </svg>
          {hold.stock.name}
        </li>
      )}
      {asked && (
        <li>
          <svg viewBox="0 0 36 20" aria-hidden="true">
            <path class="pad-target" d="M8 6H28M18 6v9" />
          </svg>
          asked for
        </li>
      )}
      <li>
        <svg viewBox="0 0 36 20" aria-hidden="true">
          <rect x="1" y="1" width="34" height="18" fill="url(#pad-air)" />
        </svg>
        pickup out of the oil, once settled
      </li>
    </ul>
  );
}

const aloud = (words: string, covered: boolean | null): string =>
  covered === null ? words : `${words} Pickup ${covered ? "covered" : "uncovered"}.`;

/** Read aloud once the thumb rests, not all the way. */
function Aloud({ says }: { says: string }) {
  const heard = useSignal("");
  useEffect(() => {
    const timer = setTimeout(() => (heard.value = says), 700);
    return () => clearTimeout(timer);
  }, [says]);
  return (
    <p class="unseen" role="status">
      {heard.value}
    </p>
  );
}

export function Tilt() {
  const at = useSignal<Accel>(REST);
  const mode = useSignal<Mode>("settled");
  const springs = useSignal(false);
  const { answer, oil } = useTilting(at, mode);
  const hold = held.value?.hold ?? null;
  const asked = targets();
  const most = hold?.magnitudes_g[hold.magnitudes_g.length - 1] ?? MOST;
  const says = useComputed(() => accelWords(at.value));
  return (
    <div class="tilt">
      <PanView of="pan" oil={oil} label="The pan in 3D with its oil" />
      <section class="tilt-pad" aria-label="Tilt pad">
        <TiltPad
          at={at}
          most={most}
          directions={hold?.directions_deg ?? []}
          limits={hold?.limit_g ?? []}
          stock={hold?.stock?.limit_g ?? null}
          targets={asked}
          springs={springs.value}
          says={says.value}
          covered={answer.value?.covered ?? null}
        />
        <Readout at={at.value} answer={answer.value} hold={hold} mode={mode.value} />
        <Aloud says={aloud(says.value, answer.value?.covered ?? null)} />
        <div class="on-screen">
          <Modes mode={mode} />
          <Jumps hold={hold} at={at} />
          <label class="pick">
            <input type="checkbox" checked={springs.value} onChange={() => (springs.value = !springs.value)} />
            Spring back to rest when let go
          </label>
        </div>
        <PadKey hold={hold} asked={asked.length > 0} />
      </section>
    </div>
  );
}

