// SPDX-License-Identifier: Apache-2.0
import { goTo } from "../numbers/goal";
import { byHand } from "./by_hand";

const KEY = /^[a-z][a-z_]*(\.[a-z_]+)*$/;

/** Text of the job's own descriptions: what stands in `backticks` is typed so.

With `go`, a key in it leads to where it is typed. */
export function Said({ text, go = false }: { text: string; go?: boolean }) {
  const parts = byHand(text).split("`");
  return (
    <>
      {parts.map((part, at) => {
        if (at % 2 === 0) return part;
        if (!go || !KEY.test(part)) return <code key={at}>{part}</code>;
        return (
          <button key={at} class="plain in-line" onClick={() => goTo(part)}>
            {part}
          </button>
        );
      })}
    </>
  );
}
