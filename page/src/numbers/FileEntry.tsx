// SPDX-License-Identifier: Apache-2.0
// A body's file: chosen from the job folder, picked from the machine, or dropped on the field.

import { useSignal } from "@preact/signals";
import { bringIn } from "../shell/arrive";
import { DROPPED } from "../shell/Drop";
import { save } from "./draft";
import { TextEntry } from "./Entry";
import { FileWays } from "./FileWays";
import type { Field } from "./form";
import { idOf, textOf } from "./typing";

export function FileEntry({ field }: { field: Field }) {
  const over = useSignal(false);
  const dropped = (event: DragEvent) => {
    event.preventDefault();
    event.stopPropagation(); // the window's own place for drops need not take it too
    over.value = false;
    dispatchEvent(new Event(DROPPED));
    void bringIn([...(event.dataTransfer?.files ?? [])].slice(0, 1), field.key);
  };
  return (
    <span
      class={`file-entry ${over.value ? "is-over" : ""}`}
      onDragOver={(event) => {
        event.preventDefault();
        over.value = true;
      }}
      onDragLeave={() => (over.value = false)}
      onDrop={dropped}
    >
      <TextEntry field={field} wide />
      <FileWays
        field={field}
        id={idOf(field.key)}
        now={textOf(field)}
        to={field.key}
        chosen={(name) => name && void save(field.key, name)}
      />
      <span class="quiet file-hint">or drop one here</span>
    </span>
  );
}
