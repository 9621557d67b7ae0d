// SPDX-License-Identifier: Apache-2.0
// Photos of a teardown: dropped or taken, kept in the job folder, filed with their fingerprint.

import { useSignal } from "@preact/signals";
import { Refused } from "../api";
import { Wrong, type FieldProps } from "./Field";

export const photoAddress = (name: string): string => `/api/photo?${new URLSearchParams({ name })}`;

/** Browsers seldom show these. */
export const isShown = (name: string): boolean => !name.toLowerCase().endsWith(".heic");

async function kept(file: File): Promise<string> {
  const headers = { "Content-Type": "application/octet-stream" };
  const path = `/api/photo?${new URLSearchParams({ name: file.name })}`;
  const answer = await fetch(path, { method: "POST", headers, body: file, credentials: "same-origin" });
  const said = (await answer.json().catch(() => ({}))) as { name?: string; error?: string };
  if (answer.ok && said.name) return said.name;
  throw new Refused(answer.status, [], said.error ?? `refused (${answer.status})`, {});
}

export function Photos({ field, value, at, problems, put }: FieldProps) {
  const over = useSignal(false);
  const said = useSignal<string[]>([]);
  const names = Array.isArray(value) ? value.map(String) : [];
  const take = async (files: FileList | null | undefined) => {
    said.value = [];
    const found = [...names];
    for (const file of files ?? []) {
      try {
        const name = await kept(file);
        if (!found.includes(name)) found.push(name);
      } catch (error) {
        const why = error instanceof Refused ? error.message : "the line to the server was lost";
        said.value = [...said.value, `${file.name}: ${why}`];
      }
    }
    put(found);
  };
  return (
    <fieldset
      class={`form-list photos ${over.value ? "is-over" : ""}`}
      onDragOver={(e) => {
        e.preventDefault();
        over.value = true;
      }}
      onDragLeave={() => (over.value = false)}
      onDrop={(e) => {
        e.preventDefault();
        e.stopPropagation(); // else the whole page would take them as geometry or logs
        dispatchEvent(new Event("sumpwright-dropped"));
        over.value = false;
        void take(e.dataTransfer?.files);
      }}
    >
      <legend>
        {field.label} <span class="quiet">{field.says}</span>
      </legend>
      <Wrong at={at} problems={problems} />
      <ul class="photo-row">
        {names.map((name, k) => (
          <li key={name}>
            {isShown(name) ? <img src={photoAddress(name)} alt={`Photo ${k + 1}`} /> : <span>{name}</span>}
            <button class="plain" onClick={() => put(names.filter((n) => n !== name))}>
              leave out
            </button>
            <Wrong at={`${at}.${k}`} problems={problems} />
          </li>
        ))}
      </ul>
      <label class="button log-drop">
        Drop photos here, or take one
        <input
          class="unseen"
          type="file"
          accept="image/jpeg,image/png,image/webp,image/heic"
          multiple
          onChange={(e) => {
            const input = e.target as HTMLInputElement;
            void take(input.files).then(() => (input.value = ""));
          }}
        />
      </label>
      {said.value.map((line) => (
        <p class="problem" role="alert" key={line}>
          {line}
        </p>
      ))}
    </fieldset>
  );
}
