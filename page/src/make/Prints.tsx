// SPDX-License-Identifier: Apache-2.0
// What is printed to try the fit: the pieces, how they lie, how they meet.

import { fine, mass, money, size } from "../shape/made";
import { Fetch, Findings, Study } from "../shape/Study";
import type { PrintsAnswer } from "./answer";

export function Prints() {
  return (
    <section>
      <h2>Prints to try the fit</h2>
      <Study<PrintsAnswer>
        question="prints"
        words="Cut it to the printer"
        doing="Cutting the pan to the printer"
        again="Cut it anew"
        takes="Takes some seconds."
      >
        {(prints, work) => (
          <>
            <p>
              {prints.pieces.length} kinds of piece for {prints.printer}, {mass(prints.mass_kg)} in all if printed solid
              {prints.cost !== null && `, ${money(prints.cost, prints.currency)}`}; {prints.how}, {prints.scale.toFixed(4)} times its
              size.
            </p>
            <Pieces prints={prints} />
            <Joints prints={prints} />
            <Findings findings={prints.findings} />
            <Fetch work={work} />
          </>
        )}
      </Study>
    </section>
  );
}

function Pieces({ prints }: { prints: PrintsAnswer }) {
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label="Pieces to print">
      <table>
        <thead>
          <tr>
            <th>Piece</th>
            <th class="num">Count</th>
            <th>Lies on</th>
            <th class="num">Size</th>
            <th class="num">Mass</th>
            <th class="num">Cost</th>
          </tr>
        </thead>
        <tbody>
          {prints.pieces.map((piece) => (
            <tr key={piece.key}>
              <th scope="row">{piece.key}</th>
              <td class="num">{piece.count}</td>
              <td>{piece.lies_on}</td>
              <td class="num">{size(piece.size_m)}</td>
              <td class="num">{mass(piece.mass_kg)}</td>
              <td class="num">{money(piece.cost, prints.currency)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Joints({ prints }: { prints: PrintsAnswer }) {
  return (
    <ul>
      {prints.joints.map((joint) => (
        <li key={joint.pieces.join()}>
          {joint.pieces.join(" to ")}: {joint.kind === "butt" ? "butt, glued" : `${joint.keys} ${joint.kind}`}
          {joint.diameter_m !== null && ` of ${fine(joint.diameter_m)}`}
        </li>
      ))}
    </ul>
  );
}
