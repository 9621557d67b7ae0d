// SPDX-License-Identifier: Apache-2.0
// Operation 10: what does the pan hold, and does it fit?

import { linkOf } from "../chart";
import { measured } from "./answer";
import { Curve } from "./Curve";
import { Dipstick } from "./Dipstick";
import { Holds } from "./Holds";
import { Parked } from "./Parked";
import { Room } from "./Room";
import { Ruler } from "./Ruler";
import "./measure.css";

export default function Sheet() {
  const now = measured.value;
  return (
    <>
      <header class="sheet-head">
        <h1>Measure</h1>
        <p class="lead">What does it hold, and does it fit?</p>
      </header>
      {!now && <p class="note">The figures come with the first verdict: it is asked for by itself as soon as the numbers can be read.</p>}
      {now?.stale && <p class="note">These figures are for the numbers before the last change; new ones are on their way.</p>}
      {now && <Parts now={now} />}
    </>
  );
}

function Parts({ now: { fill, clearance } }: { now: NonNullable<typeof measured.value> }) {
  const link = linkOf("fill");
  return (
    <>
      <h2>What it holds</h2>
      <Holds fill={fill} />
      <div class="fill-two">
        <Curve fill={fill} link={link} />
        <Ruler fill={fill} link={link} />
      </div>
      <h2>The dipstick</h2>
      <Dipstick fill={fill} />
      <Parked fill={fill} />
      <h2>Does it fit?</h2>
      <Room room={clearance} />
    </>
  );
}
