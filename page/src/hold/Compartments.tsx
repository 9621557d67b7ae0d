// SPDX-License-Identifier: Apache-2.0
// What the program understood of the baffles: look whether it is what was meant.

import { Said, useAsked } from "../prove/Asking";
import { byHand } from "../shell/by_hand";
import { shown } from "../shown";
import { answered, job, workOn } from "../state";
import { type CompartmentsAnswer, wayLines, whereWords } from "./compartments";

function Table({ of }: { of: CompartmentsAnswer }) {
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label="Compartments">
      <table class="compartments">
        <thead>
          <tr>
            <th scope="col">Compartment</th>
            <th scope="col" class="num">
              Holds
            </th>
            <th scope="col" class="num">
              At rest
            </th>
          </tr>
        </thead>
        <tbody>
          {of.compartments.map((part) => (
            <tr key={part.name}>
              <th scope="row">
                <b class="letter">{part.name}</b> {whereWords(part)}
              </th>
              <td class="num">{shown(part.volume_m3, "volume")}</td>
              <td class="num">{shown(part.at_rest_m3, "volume")}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Ways({ of }: { of: CompartmentsAnswer }) {
  return (
    <details class="passages">
      <summary>Doors, windows and gaps between them</summary>
      {of.compartments.map((part) => (
        <section key={part.name} aria-label={`Compartment ${part.name}`}>
          <h3>
            {part.name} {whereWords(part)}
          </h3>
          <ul>
            {part.ways.length ? wayLines(part).map((line) => <li key={line}>{line}</li>) : <li>no way out</li>}
          </ul>
        </section>
      ))}
    </details>
  );
}

const takenWords = ({ panel_m3, displaced_m3 }: CompartmentsAnswer): string => {
  const taken = [
    [panel_m3, "baffles"],
    [displaced_m3, "displacing bodies"],
  ] as const;
  return taken
    .filter(([volume]) => volume > 0)
    .map(([volume, what]) => `${shown(volume, "volume")} by ${what}`)
    .join(", ");
};

export function Compartments() {
  useAsked("compartments", {}, job.value?.input_hash);
  const found = answered<CompartmentsAnswer>("compartments");
  const work = workOn("compartments");
  const taken = found ? takenWords(found.answer) : "";
  return (
    <section>
      <h2>Compartments</h2>
      <p>What was understood of the baffles. The letters are those of the picture, coloured by compartment.</p>
      {found?.stale && <p class="note">These are for the numbers before the last change.</p>}
      {!found && work?.state !== "failed" && <p class="quiet">Parting the pan by its baffles …</p>}
      {work?.state === "failed" && <Said problems={work.problems} error={work.error} />}
      {found && <Table of={found.answer} />}
      {taken && <p class="quiet">Taken up: {taken}.</p>}
      {found?.answer.findings.map((f) => (
        <p class="note" key={f.code + f.place}>
          {f.place}: {f.found}. {byHand(f.repair)} <span class="quiet">[{f.code}]</span>
        </p>
      ))}
      {found && <Ways of={found.answer} />}
    </section>
  );
}
