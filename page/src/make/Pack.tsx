// SPDX-License-Identifier: Apache-2.0
// The pack for the shop: made by a key, refused with every reason, or made anyway and said so.

import { useSignal } from "@preact/signals";
import type { Work } from "../protocol";
import { addressOf, Study, Verdict } from "../shape/Study";
import type { PackAnswer } from "./answer";

export function Pack() {
  const anyway = useSignal(false);
  return (
    <section>
      <h2>The pack</h2>
      <p>
        Everything for the shop in one folder: solids, flat patterns, prints, drawings, lists, and a manifest with the revision and
        a hash of every file. It is refused where something speaks against making it.
      </p>
      <label class="pick on-screen">
        <input type="checkbox" checked={anyway.value} onChange={(e) => (anyway.value = e.currentTarget.checked)} />
        Make it anyway: the pack then says what speaks against it
      </label>
      <Study<PackAnswer>
        question="make"
        args={anyway.value ? ANYWAY : PLAIN}
        words="Make the pack"
        doing="Making the pack"
        again="Make it anew"
        takes="Takes a minute or two; you can go on meanwhile."
      >
        {(pack, work) => <Packed pack={pack} work={work} />}
      </Study>
    </section>
  );
}

const PLAIN = {};
const ANYWAY = { anyway: true };

function Packed({ pack, work }: { pack: PackAnswer; work: Work }) {
  return (
    <>
      <Verdict stand={pack.verdict}>
        revision {pack.revision}, {pack.files.length} files, made {pack.made.replace("T", " ").slice(0, 16)}
      </Verdict>
      {pack.against.map((said) => (
        <p class="problem" key={said}>
          {said}
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
      {pack.warnings.map((said) => (
        <p class="note" key={said}>
          {said}
        </p>
      ))}
      <Contents work={work} />
    </>
  );
}

/** By folder; `make/C/halves/upper-half.step` is `upper-half.step` of `halves`. */
function Contents({ work }: { work: Work }) {
  const folders = new Map<string, string[]>();
  for (const file of work.files) {
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
