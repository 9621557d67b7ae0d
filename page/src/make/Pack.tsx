// SPDX-License-Identifier: Apache-2.0
// The pack for the shop: made by a key, refused with every reason, or made anyway and said so.

import { useState } from "preact/hooks";
import type { Refused as Refusal } from "../api";
import type { Work } from "../protocol";
import { Going, isBusy, Said } from "../prove/Asking";
import { addressOf, Lines, Verdict } from "../shape/Study";
import { answered, ask, work } from "../state";
import type { PackAnswer } from "./answer";
import { againstWords, isRefused, Refused } from "./Refused";

/** Every time that a pack was asked for, made anyway or not; the last one last. */
const asked = (): Work[] => work.value.filter((w) => w.question === "make");

/** The last pack that was made, whatever was asked since. */
function lastMade() {
  const done = asked().filter((w) => w.state === "done");
  return done.length ? answered<PackAnswer>("make", done.at(-1)!.args) : null;
}

export function Pack() {
  const last = asked().at(-1) ?? null;
  const found = lastMade();
  return (
    <section>
      <h2>The pack</h2>
      <p>
        Everything for the shop in one folder: solids, flat patterns, prints, drawings, lists, and a manifest with the revision and
        a hash of every file. It is refused where something speaks against making it.
      </p>
      {last && isBusy(last) ? <Going work={last} words="Making the pack" /> : <Key last={last} again={!!found} />}
      {isRefused(last) && found && <p class="note">The pack below was made before that, and is left as it was.</p>}
      {found?.stale && <p class="note">This pack is of the numbers before the last change.</p>}
      {found && <Packed pack={found.answer} work={found.work} />}
    </section>
  );
}

/** A key to make it with; under it why it was not made. */
function Key({ last, again }: { last: Work | null; again: boolean }) {
  const [refused, setRefused] = useState<Refusal | null>(null);
  const failed = last?.state === "failed" && !isRefused(last) ? last : null;
  return (
    <>
      <p class="tools on-screen">
        <button onClick={() => void ask("make").then(setRefused)}>{again ? "Make it anew" : "Make the pack"}</button>
        <span class="quiet">Takes a minute or two; you can go on meanwhile.</span>
      </p>
      {last?.state === "stopped" && <p class="note">Stopped. Nothing was written.</p>}
      {last && isRefused(last) && <Refused work={last} />}
      {failed && <Said problems={failed.problems} error={failed.error} />}
      {refused && <Said problems={refused.problems} error={refused.problems.length ? null : refused.message} />}
    </>
  );
}

function Packed({ pack, work }: { pack: PackAnswer; work: Work }) {
  return (
    <>
      <Verdict stand={pack.verdict}>
        revision {pack.revision}, {pack.files.length} files, made {pack.made.replace("T", " ").slice(0, 16)}
        {pack.against.length > 0 && ", although this speaks against it, as its first page says:"}
      </Verdict>
      {pack.against.map((said) => (
        <p class="problem" key={said}>
          {againstWords(said)}
        </p>
      ))}
      {pack.not_made.map((one) => (
        <p class="note" key={one.what}>
          Without {one.what}: {one.why}
          {one.key && (
            <>
              {" "}
              (<span class="quiet">{one.key}</span>)
            </>
          )}
        </p>
      ))}
      <Lines words={`${pack.warnings.length} things to know`} said={pack.warnings} />
      <Contents work={work} />
    </>
  );
}

/** By folder; `make/C/halves/upper-half.step` is `upper-half.step` of `halves`. */
function Contents({ work }: { work: Work }) {
  const folders = new Map<string, string[]>();
  for (const file of [...work.files].sort((a, b) => Number(a.split("/").length > 3) - Number(b.split("/").length > 3))) {
    const within = file.split("/").slice(2, -1).join("/");
    folders.set(within, [...(folders.get(within) ?? []), file]);
  }
  return (
    <>
      {[...folders].map(([name, files]) => (
        <section key={name}>
          <h3>{name || "The pack"}</h3>
          <ul class="fetch">
            {files.map((file) => (
              <li key={file}>
                <a href={addressOf(file)} target="_blank" rel="noopener">
                  {file.split("/").at(-1)}
                </a>
              </li>
            ))}
          </ul>
        </section>
      ))}
    </>
  );
}
