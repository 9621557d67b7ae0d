// SPDX-License-Identifier: Apache-2.0
// Operation 40: does the pump get oil, cold and hot?

import { Printing } from "../prove/Printing";
import { fed, type Feed } from "./answer";
import { Altitudes } from "./Altitudes";
import { Budget } from "./Budget";
import { Inlet } from "./Inlet";
import { Judged } from "./Judged";
import { Speeds } from "./Speeds";
import "./feed.css";

export default function Sheet() {
  const now = fed.value;
  return (
    <>
      <header class="sheet-head">
        <h1>Feed</h1>
        <p class="lead">Does the pump get oil, cold and hot?</p>
      </header>
      {!now && <p class="note">The figures come with the first verdict: it is asked for by itself as soon as the numbers can be read.</p>}
      {now?.stale && <p class="note">These figures are for the numbers before the last change; new ones are on their way.</p>}
      {now && !now.feed && (
        <p class="note">
          Nothing to say yet. It takes the pan's suction line, the oil's viscosity or grade, the engine's speed, and its pump or its
          flow; type them under 00 Numbers, and the answer comes by itself.
        </p>
      )}
      {now?.feed && <Parts feed={now.feed} />}
    </>
  );
}

function Parts({ feed }: { feed: Feed }) {
  return (
    <>
      <Judged feed={feed} />
      <h2>Over speed and temperature</h2>
      <Inlet feed={feed} />
      <Speeds feed={feed} />
      <h2>What takes the pressure</h2>
      <Budget feed={feed} />
      <Altitudes feed={feed} />
      <details class="fold">
        <summary>What this rests on</summary>
        <ul>
          {feed.assumptions.map((said) => (
            <li key={said}>{said}</li>
          ))}
        </ul>
      </details>
      <div class="on-screen">
        <h2>To print and to send</h2>
        <Printing question="feed" words="Make the report" doing="Drawing the report" again="Make it again" />
      </div>
    </>
  );
}
