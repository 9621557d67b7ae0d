// SPDX-License-Identifier: Apache-2.0
// What a print showed where it was held up: the fit log, filled in here, right after it was printed.

import { useEffect } from "preact/hooks";
import { Cautions } from "../prove/Cautions";
import { listRecords, records } from "../prove/records";
import { job, outside } from "../state";
import { Filed } from "../strip/Filed";
import { isBegun } from "../strip/form";
import { RecordForm } from "../strip/RecordForm";
import "../strip/strip.css";

export function TriedOn() {
  useEffect(() => void listRecords(), [job.value?.text_hash, outside.value]);
  const fits = records.value?.filed.filter((r) => r.kind === "fit").length ?? 0;
  return (
    <section class="strip-sheet">
      <h2>Tried on</h2>
      <p>
        Where a print or a mock-up touches, where it is short, where it is free, held up to the engine and the car; and what that
        changed in the numbers. It stands among the records in 60 Strip, and by revision in 70 Release.
      </p>
      {fits > 0 && <Filed only="fit" />}
      <details class="fold on-screen" open={isBegun("fit")}>
        <summary>Say what was found</summary>
        <Cautions topics={["Lifting and supports"]} />
        <RecordForm kind="fit" />
      </details>
    </section>
  );
}
