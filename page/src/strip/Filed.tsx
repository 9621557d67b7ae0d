// SPDX-License-Identifier: Apache-2.0
// What is filed: for which part, whether it counts, word for word; nothing here can be changed.

import { ProblemText } from "../shell/Problems";
import { Mark } from "../shell/Mark";
import { records, recordsSaid, unread, type Listed } from "../prove/records";
import { nameOf } from "./form";
import { isShown, photoAddress } from "./Photos";

const STANDS = { counts: "met", stale: "stale", "set aside": "none" } as const;
const SAYS = { counts: "counts", stale: "stale", "set aside": "set aside" } as const;

const day = (made: string): string => {
  const date = new Date(made);
  return Number.isNaN(date.getTime()) ? made : date.toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" });
};

function Photo({ file, unchanged }: Listed["files"][number]) {
  return (
    <li>
      {isShown(file) && <img src={photoAddress(file)} alt="" loading="lazy" />}
      <span>
        {file}: {unchanged ? "as it was filed" : "not the bytes that were filed"}
      </span>
    </li>
  );
}

function Row({ of }: { of: Listed }) {
  const photos = of.files.filter((f) => f.unchanged !== null);
  return (
    <li class="filed-one">
      <details>
        <summary>
          <Mark stand={STANDS[of.standing]} />
          <span class="filed-what">
            <b>{nameOf(of.kind)}</b>
            <span class="quiet">
              {day(of.made)}, {of.by}
            </span>
          </span>
          <span class="filed-part">
            {SAYS[of.standing]}
            <span class="quiet">
              revision {of.revision}, part {of.part_hash.slice(0, 12)}
            </span>
          </span>
        </summary>
        {of.why && <p>{of.why}</p>}
        {photos.length > 0 && (
          <ul class="photo-row">
            {photos.map((f) => (
              <Photo key={f.file} {...f} />
            ))}
          </ul>
        )}
        <p class="quiet">records/{of.name}</p>
        <pre tabIndex={0}>{of.text}</pre>
      </details>
    </li>
  );
}

/** `only`: of one kind. */
export function Filed({ only }: { only?: string }) {
  const list = records.value;
  if (recordsSaid.value && unread.value) return <p class="quiet">What is filed is shown once the job is mended.</p>;
  if (recordsSaid.value) return <p class="problem">{recordsSaid.value}</p>;
  if (!list) return <p class="quiet">Looking through records/ …</p>;
  const newest = list.filed.filter((of) => !only || of.kind === only).reverse();
  return (
    <>
      {!only && (
        <p>
          This part is revision <b>{list.revision}</b>, part <code>{list.part_hash.slice(0, 12)}</code>. Only
          records of it count; they are never rewritten.
        </p>
      )}
      {!newest.length && <p class="quiet">Nothing is filed yet.</p>}
      <ul class="filed-list">
        {newest.map((of) => (
          <Row key={of.name} of={of} />
        ))}
      </ul>
      {!only && list.problems.map((p) => (
        <ProblemText key={p.where + p.code} problem={p} />
      ))}
    </>
  );
}
