// SPDX-License-Identifier: Apache-2.0
// Operation 45: what do I cut, bend, weld, print, buy?

import { Halves } from "./Halves";
import { Housing } from "./Housing";
import { Pack } from "./Pack";
import { Prints } from "./Prints";
import { Sheets } from "./Sheets";
import { TriedOn } from "./TriedOn";

export default function Sheet() {
  return (
    <>
      <header class="sheet-head">
        <h1>Make</h1>
        <p class="lead">What do I cut, bend, weld, print, buy?</p>
      </header>
      <p class="caution">
        Welding, milling, bending, lifting and hot oil are for those qualified for them, by local rules and their own procedure; these
        figures are to plan by.
      </p>
      <Housing />
      <Halves />
      <Sheets />
      <Prints />
      <TriedOn />
      <Pack />
    </>
  );
}
