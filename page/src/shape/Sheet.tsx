// SPDX-License-Identifier: Apache-2.0
// Operation 15: what shape is it, and where is room for more?

import { Drawn } from "./Drawn";
import { Rail } from "./Rail";
import { Space } from "./Space";

export default function Sheet() {
  return (
    <>
      <header class="sheet-head">
        <h1>Shape</h1>
        <p class="lead">What shape is it, and where is room for more?</p>
      </header>
      <Rail />
      <Drawn />
      <Space />
    </>
  );
}
