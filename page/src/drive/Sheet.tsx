// SPDX-License-Identifier: Apache-2.0
// Operation 30: where does the oil go in a manoeuvre?

import { useEffect } from "preact/hooks";
import { look } from "../numbers/known";
import { Asking } from "../prove/Asking";
import { answered, job } from "../state";
import type { DriveAnswer } from "./answer";
import { args, current } from "./choice";
import { Choose } from "./Choose";
import { Drive } from "./Drive";
import "./drive.css";

export default function Sheet() {
  useEffect(() => void look("log"), [job.value?.name]);
  const wanted = args.value;
  const found = wanted && answered<DriveAnswer>("drive", wanted);
  return (
    <>
      <header class="sheet-head">
        <h1>Drive</h1>
        <p class="lead">Where does the oil go in a manoeuvre, and does the pickup keep it?</p>
      </header>
      {wanted === null || current.value === null ? (
        <p class="note">
          Nothing to drive yet: add a manoeuvre under 00 Numbers, such as a circle of 30 m at 1.0 g.
        </p>
      ) : (
        <>
          <Choose />
          <div class="on-screen">
            <Asking
              key={JSON.stringify(wanted)}
              question="drive"
              args={wanted}
              words="Drive it"
              again={found?.stale ? "Drive it anew" : "Drive it again"}
              doing={`Driving ${String(wanted["manoeuvre"])}`}
              main={!found || found.stale}
            />
          </div>
          {found?.stale && (
            <p class="note">The job has changed since: what stands below is of the pan as it was.</p>
          )}
          {found && <Drive key={found.work.key ?? ""} drive={found.answer} asked={wanted} />}
        </>
      )}
    </>
  );
}
