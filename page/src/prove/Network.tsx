// SPDX-License-Identifier: Apache-2.0
// Did the network say so? Its hits and misses, and what was fitted; both are kept side by side.

import { Mark } from "../shell/Mark";
import type { Fitted, Foretold, ReadAnswer } from "./read_answer";
import { Wide } from "./Wide";

function Score({ name, of }: { name: string; of: Foretold }) {
  const dips = of.hits + of.misses;
  return (
    <tr>
      <th scope="row">{name}</th>
      <td class="num">
        {of.hits} of {dips}
      </td>
      <td class="num">{of.false_alarms}</td>
    </tr>
  );
}

function Parameter({ of }: { of: Fitted }) {
  const [low, high] = [of.low, of.high].map((v) => v.toFixed(2));
  return (
    <tr>
      <th scope="row">{of.name}</th>
      <td class="num">× {of.after.toFixed(2)}</td>
      <td class="num">
        {low} to {high}
      </td>
      <td>{of.known === "yes" ? "the log tells" : of.known}</td>
    </tr>
  );
}

function Parameters({ rows }: { rows: readonly Fitted[] }) {
  return (
    <details>
      <summary>What was fitted</summary>
      <p>
        Factors on the job's own values. A fitted prediction that agrees shows that the model can, not
        that it did.
      </p>
      <Wide of="What was fitted">
        <table>
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col" class="num">
                Factor
              </th>
              <th scope="col" class="num">
                95 % between
              </th>
              <th scope="col">Known by it</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <Parameter key={row.name} of={row} />
            ))}
          </tbody>
        </table>
      </Wide>
    </details>
  );
}

export function Network({ answer }: { answer: ReadAnswer }) {
  const told = answer.prediction;
  if (!told) return null;
  const { hits, misses, false_alarms } = told.original;
  const agrees = misses === 0 && false_alarms === 0;
  return (
    <>
      <h2>Did the model say so?</h2>
      <p class="outlook">
        <Mark stand={agrees ? "met" : hits + misses === 0 && false_alarms === 0 ? "met" : "not met"} />
        <span>{told.text}</span>
      </p>
      <Wide of="Hits and misses">
        <table>
          <thead>
            <tr>
              <th scope="col">Network</th>
              <th scope="col" class="num">
                Dips foretold
              </th>
              <th scope="col" class="num">
                Air without a dip
              </th>
            </tr>
          </thead>
          <tbody>
            <Score name="as the job has it" of={told.original} />
            {told.fitted && <Score name="fitted to this log" of={told.fitted} />}
          </tbody>
        </table>
      </Wide>
      {told.parameters.length > 0 && <Parameters rows={told.parameters} />}
    </>
  );
}
