// SPDX-License-Identifier: Apache-2.0
// The times in motion: long work, asked for on demand.

import { useSignal } from "@preact/signals";
import { answered, ask, workOn } from "../state";
import type { HoldMapAnswer } from "./answer";
import { TimesMap } from "./TimesMap";

export function Times() {
  const refused = useSignal<string | null>(null);
  const found = answered<HoldMapAnswer>("hold");
  const work = workOn("hold");
  const busy = work?.state === "running" || work?.state === "waiting";
  const go = async () => {
    const no = await ask("hold");
    refused.value = no ? no.message : null;
  };
  const failed = work?.state === "failed" ? work : null;
  return (
    <section>
      <h2>How long it holds, in motion</h2>
      <p>
        The static limits say whether the oil is there once it stands still. Here the oil runs: through windows, doors and gaps,
        from a settled start, until the pickup takes its first air.
      </p>
      {(!found || found.stale) && (
        <div class="tools on-screen">
          <button type="button" class={found ? "" : "main"} disabled={busy} onClick={() => void go()}>
            {found ? "Find the times anew" : "Find the times"}
          </button>
          <span class="quiet">
            {busy ? `${work?.text || "starts"}; the foot of the card can stop it` : "Takes up to a minute; you can go on meanwhile."}
          </span>
        </div>
      )}
      {refused.value && (
        <p class="problem" role="alert">
          {refused.value}
        </p>
      )}
      {failed && !busy && (
        <div class="problem" role="alert">
          {failed.error && <p>{failed.error}</p>}
          {failed.problems.map((p) => (
            <p key={p.code + p.where}>
              {p.where}: {p.found}; needed {p.needed}. {p.do}
            </p>
          ))}
        </div>
      )}
      {found?.stale && <p class="note">These times are for the numbers before the last change.</p>}
      {found && <TimesMap key={found.work.key} answer={found.answer} />}
    </section>
  );
}
