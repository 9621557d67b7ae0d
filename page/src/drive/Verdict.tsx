// SPDX-License-Identifier: Apache-2.0
// What became of the pickup, the requirements of this drive, and the moments to look at.

import { byHand } from "../shell/by_hand";
import { Mark } from "../shell/Mark";
import { shown, shownLedger } from "../shown";
import type { Requirement } from "../protocol";
import { standing, verdictWords, type Chance, type DriveAnswer } from "./answer";
import type { Player } from "./player";

export function Verdict({ drive, player }: { drive: DriveAnswer; player: Player }) {
  const stand = standing(drive);
  return (
    <>
      <p class={`drive-verdict is-${stand.replace(" ", "-")}`}>
        <Mark stand={stand} />
        <span>
          {verdictWords(drive)}. <span class="drive-stand">{stand}</span>
        </span>
      </p>
      <ul class="drive-lines">
        {drive.requirements.map((line) => (
          <Line line={line} key={line.id} />
        ))}
      </ul>
      <Chances of={drive.chances} />
      <Moments drive={drive} player={player} />
    </>
  );
}

const percent = (share: number): string => (100 * share).toFixed(1);

function Chances({ of }: { of: readonly Chance[] }) {
  const first = of[0];
  if (!first) return null;
  return (
    <section aria-label="Chances">
      <h3>Chance that it fails</h3>
      <ul>
        {of.map((one) => (
          <li key={one.requirement}>
            {one.requirement}: <b>{percent(one.fails)} %</b> ({percent(one.low)} to {percent(one.high)} %)
          </li>
        ))}
      </ul>
      <p class="quiet">
        {first.samples} samples, seed {first.seed}; drawn at random: {first.drawn.join("; ")}.
      </p>
    </section>
  );
}

function Line({ line }: { line: Requirement }) {
  const against = `${line.at_most ? "at most" : "at least"} ${shownLedger(line.limit, line)}`;
  return (
    <li class={line.state === "not met" ? "not-met" : ""}>
      <Mark stand={line.state} />
      <span>
        {line.statement}: <b>{line.state}</b>
        {line.value !== null && line.limit !== null && `, ${shownLedger(line.value, line)}, ${against}`}
        {line.reason && <span class="quiet"> ({line.reason})</span>}
      </span>
    </li>
  );
}

interface Moment {
  words: string;
  at: number;
}

function momentsOf({ summary: s }: DriveAnswer): Moment[] {
  const found: Moment[] = [];
  if (s.first_air_s !== null) found.push({ words: "First air", at: s.first_air_s });
  if (s.least_cover_s !== null)
    found.push({ words: `Least cover, ${shown(s.least_cover_m, "length")}`, at: s.least_cover_s });
  if (s.least_inlet_s !== null)
    found.push({
      words: `Least at the inlet, ${shown(Math.max(s.least_inlet_pa ?? 0, 0), "inlet_pressure")}`,
      at: s.least_inlet_s,
    });
  return found;
}

/** Moments of the drive, each a key that goes there; on paper a list. */
function Moments({ drive, player }: { drive: DriveAnswer; player: Player }) {
  const s = drive.summary;
  const moments = momentsOf(drive);
  return (
    <>
      {moments.length > 0 && (
        <p class="tools">
          {moments.map(({ words, at }) => (
            <button type="button" key={words} onClick={() => (player.pause(), player.go(at))}>
              {words} at {at.toFixed(2)} s
            </button>
          ))}
        </p>
      )}
      <p class="quiet">
        {s.duration_s.toFixed(1)} s with up to {s.largest_g.toFixed(2)} g.
        {s.first_air_s !== null &&
          ` Air for ${s.aerated_s.toFixed(2)} s in all, ${s.longest_dry_s.toFixed(2)} s on end at the longest: ${shown(s.air_drawn_m3, "volume")} of it drawn.`}
        {` Most oil up in the engine: ${shown(s.most_retained_m3, "volume")}.`}
      </p>
      {moments.length > 0 && (
        <p class="on-paper">{moments.map(({ words, at }) => `${words} at ${at.toFixed(2)} s`).join(". ")}.</p>
      )}
    </>
  );
}

/** What the answer rests on. */
export function Findings({ drive }: { drive: DriveAnswer }) {
  return (
    <details class="fold">
      <summary>What this rests on</summary>
      <ul>
        {drive.assumptions.map((said) => (
          <li key={said}>{byHand(said)}</li>
        ))}
        {drive.findings.map((f) => (
          <li key={f.code + f.place}>
            {f.place}: {f.found}; {byHand(f.repair)}
          </li>
        ))}
        <li>
          {drive.error.steps} steps of time ({drive.error.rejected} taken again), a surface good to{" "}
          {shown(drive.error.tolerance_m, "length")} in each; oil lost or won by rounding:{" "}
          {drive.summary.mass_error.toExponential(0)} of the fill.
        </li>
      </ul>
    </details>
  );
}
