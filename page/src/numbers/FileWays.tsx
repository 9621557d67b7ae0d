// SPDX-License-Identifier: Apache-2.0
// Two ways to a file other than typing its path: one of the job folder, or one of the machine.

import { bringIn } from "../shell/arrive";
import type { Field } from "./form";
import { known, look } from "./known";

interface Ways {
  field: Field;
  id: string;
  now: string;
  /** Of the job, where the file is put as it comes; null where it is only to lie in the folder */
  to: string | null;
  chosen: (name: string) => void;
}

export function FileWays({ field, id, now, to, chosen }: Ways) {
  const as = field.files ?? "geometry";
  const names = [...new Set([now, ...known.value[as].map((k) => k.name)])].filter(Boolean);
  const take = async (input: HTMLInputElement) => {
    const came = await bringIn([...(input.files ?? [])], to);
    input.value = ""; // the same file may be chosen again
    if (came && to === null) chosen(came);
  };
  return (
    <span class="file-ways">
      <select
        aria-label={`${field.label}: a file of the job folder`}
        value={now}
        onFocus={() => void look(as)}
        onPointerDown={() => void look(as)}
        onChange={(e) => chosen((e.target as HTMLSelectElement).value)}
      >
        <option value="">In the folder …</option>
        {names.map((name) => (
          <option key={name}>{name}</option>
        ))}
      </select>
      <label class="button" for={`${id}-pick`}>
        Bring in …
      </label>
      <input
        id={`${id}-pick`}
        class="unseen"
        type="file"
        accept={field.suffixes.join(",")}
        aria-label={`${field.label}: bring a file in`}
        onChange={(e) => void take(e.target as HTMLInputElement)}
      />
    </span>
  );
}
