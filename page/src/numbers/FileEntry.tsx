// SPDX-License-Identifier: Apache-2.0
// A body's file: chosen from the job folder, picked from the machine, or dropped on the field.

import { signal, useSignal } from "@preact/signals";
import { got } from "../api";
import { bringIn } from "../shell/arrive";
import { DROPPED } from "../shell/Drop";
import { save } from "./draft";
import { TextEntry } from "./Entry";
import type { Field } from "./form";
import { idOf, textOf } from "./typing";

interface Kept {
  name: string;
  bytes: number;
}

type Sort = "geometry" | "log";

/** What lies in the job folder, as it was last looked at. */
const kept = signal<Record<Sort, readonly Kept[]>>({ geometry: [], log: [] });

async function look(as: Sort): Promise<void> {
  const found = await got<Kept[]>(`/api/files?as=${as}`).catch(() => kept.value[as]);
  kept.value = { ...kept.value, [as]: found };
}

function Known({ field }: { field: Field }) {
  const as = field.files ?? "geometry";
  const chosen = (e: Event) => {
    const name = (e.target as HTMLSelectElement).value;
    if (name) void save(field.key, name);
  };
  return (
    <select
      aria-label={`${field.label}: a file of the job folder`}
      value={textOf(field)}
      onFocus={() => void look(as)}
      onPointerDown={() => void look(as)}
      onChange={chosen}
    >
      <option value="">In the folder …</option>
      {[...new Set([textOf(field), ...kept.value[as].map((k) => k.name)])].filter(Boolean).map((name) => (
        <option key={name} value={name}>
          {name}
        </option>
      ))}
    </select>
  );
}

export function FileEntry({ field }: { field: Field }) {
  const over = useSignal(false);
  const take = async (file: File | undefined) => {
    if (file) await bringIn([file], field.key);
  };
  const dropped = (e: DragEvent) => {
    e.preventDefault();
    e.stopPropagation(); // the window's own place for drops need not hear of it
    over.value = false;
    dispatchEvent(new Event(DROPPED));
    void take(e.dataTransfer?.files[0]);
  };
  return (
    <span
      class={`file-entry ${over.value ? "is-over" : ""}`}
      onDragOver={(e) => {
        e.preventDefault();
        over.value = true;
      }}
      onDragLeave={() => (over.value = false)}
      onDrop={dropped}
    >
      <TextEntry field={field} wide />
      <span class="file-ways">
        <Known field={field} />
        <label class="button" for={`${idOf(field.key)}-pick`}>
          Bring in …
        </label>
        <input
          id={`${idOf(field.key)}-pick`}
          class="unseen"
          type="file"
          accept={field.suffixes.join(",")}
          aria-label={`${field.label}: bring a file in`}
          onChange={(e) => void take((e.target as HTMLInputElement).files?.[0])}
        />
        <span class="quiet">or drop one here</span>
      </span>
    </span>
  );
}
