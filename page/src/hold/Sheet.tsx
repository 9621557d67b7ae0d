// SPDX-License-Identifier: Apache-2.0
// Operation 20: at what g does the pickup uncover, and which way round?

import { held } from "./answer";
import { Around } from "./Around";
import { Compartments } from "./Compartments";
import { Limits } from "./Limits";
import { Tilt } from "./Tilt";
import { Times } from "./Times";
import "./hold.css";

export default function Sheet() {
  const now = held.value;
  return (
    <>
      <header class="sheet-head">
        <h1>Hold</h1>
        <p class="lead">Push the thumb where the car accelerates: the oil goes the other way. Does the pickup stay under it?</p>
      </header>
      <Tilt />
      {now?.stale && <p class="note">The limits are for the numbers before the last change; new ones are on their way.</p>}
      {now?.hold && <Limits hold={now.hold} />}
      {now?.hold && <Around hold={now.hold} />}
      {now && !now.hold && (
        <p class="note">There are no limits to show: the job has no pickup. Type one under 00 Numbers, and the limits come by themselves.</p>
      )}
      <Compartments />
      {now?.hold && <Times />}
    </>
  );
}
