// SPDX-License-Identifier: Apache-2.0
// The log reader: pick or drop a log, see what its columns are taken for, read it.

import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { Refused } from "../api";
import { LOGS } from "../shell/arrive";
import { outside } from "../state";
import { Going, isBusy, Said } from "./Asking";
import { Arriving } from "./Arriving";
import { bringLog } from "./bring";
import { Columns, lacking } from "./Columns";
import { LogAnswer } from "./LogAnswer";
import { beside, choose, chosen, columns, columnsSaid, listLogs, logs, radius, reading, readThem, reads } from "./reading";

const size = (bytes: number): string =>
  bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1e3))} kB` : `${(bytes / 1e6).toFixed(1)} MB`;

function when(modified: number | string): string {
  const date = new Date(typeof modified === "number" ? modified * 1000 : modified);
  return Number.isNaN(date.getTime()) ? "" : date.toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" });
}

function Picked({ name, bytes, modified }: { name: string; bytes: number; modified: number | string }) {
  const place = chosen.value.indexOf(name);
  const others = chosen.value.length > 0 && place !== 0;
  return (
    <li>
      <button class="log-name" aria-pressed={place >= 0} onClick={() => choose(name)}>
        {name.replace(/^tests\//, "")}
      </button>
      <span class="quiet">
        {size(bytes)}, {when(modified)}
      </span>
      {others && (
        <button class="plain" onClick={() => choose(name, true)}>
          {place > 0 ? "not this one" : "read on with this one"}
        </button>
      )}
    </li>
  );
}

/** Files in tests/, and a place to drop another. */
function Choice() {
  const over = useSignal(false);
  const take = (files: FileList | null | undefined) => {
    const file = files?.[0];
    if (file) void bringLog(file);
  };
  return (
    <div
      class={`log-choice ${over.value ? "is-over" : ""}`}
      onDragOver={(e) => {
        e.preventDefault();
        over.value = true;
      }}
      onDragLeave={() => (over.value = false)}
      onDrop={(e) => {
        e.preventDefault();
        e.stopPropagation(); // else the whole page would take it as well
        dispatchEvent(new Event("sumpwright-dropped"));
        over.value = false;
        take(e.dataTransfer?.files);
      }}
    >
      {logs.value?.length === 0 && <p>No log in this job yet.</p>}
      <ul class="logs">
        {logs.value?.map((log) => (
          <Picked key={log.name} {...log} />
        ))}
      </ul>
      <label class="button log-drop">
        Bring in a log: drop it here, or choose a file
        <input
          class="unseen"
          type="file"
          accept={LOGS.join(",")}
          onChange={(e) => {
            const input = e.target as HTMLInputElement;
            take(input.files);
            input.value = "";
          }}
        />
      </label>
    </div>
  );
}

/** Where no column tells how hard it turned, the circle's size does. */
function Radius() {
  const turns = columns.value?.roles.find((r) => r.role === "ay")?.column;
  if (!columns.value || turns) return null;
  return (
    <label class="radius">
      Radius of the circle that was driven, as no column has acceleration to the side
      <input
        value={radius.value}
        placeholder="30 m"
        onInput={(e) => (radius.value = (e.target as HTMLInputElement).value)}
      />
    </label>
  );
}

/** What stands in the way of reading; empty where nothing does. */
function firstSay(): string {
  if (columnsSaid.value) return ""; // the reading says it whole
  if (!columns.value) return "Its columns are being looked at.";
  const lacks = lacking(columns.value).map((role) => role.means);
  return lacks.length ? `First say under Columns which column is: ${lacks.join(", ")}.` : "";
}

function ReadKeys() {
  const refused = useSignal<Refused | null>(null);
  const first = firstSay();
  const now = reads.value.filter((w) => isBusy(w)).at(-1);
  const last = reads.value.at(-1);
  if (now) {
    const words = now.args["prediction"] === false ? "Judging pressure" : "Holding the network beside it";
    return <Going work={now} words={words} />;
  }
  return (
    <>
      <div class="tools">
        <button class="main" disabled={!!first} onClick={async () => (refused.value = await readThem())}>
          {reading.value ? "Read it again" : "Read it"}
        </button>
        <label class="pick">
          <input
            type="checkbox"
            checked={beside.value}
            onChange={(e) => (beside.value = (e.target as HTMLInputElement).checked)}
          />
          and hold what the network says beside it (a minute or so)
        </label>
      </div>
      {first && <p class="quiet" role="status">{first}</p>}
      {last?.state === "failed" && <Said problems={last.problems} error={last.error} />}
      {last?.state === "stopped" && <p class="note">Stopped; what was read before stands.</p>}
      {refused.value && <Said problems={refused.value.problems} error={refused.value.message} />}
    </>
  );
}

export function Reader() {
  useEffect(() => void listLogs(), [outside.value]);
  const found = reading.value;
  return (
    <>
      <h2>Which log?</h2>
      <Choice />
      <Arriving />
      {chosen.value.length > 0 && (
        <>
          {chosen.value.length > 1 && <p class="note">One session, read one after another: {chosen.value.join(", ")}</p>}
          {columnsSaid.value && <p class="problem">{columnsSaid.value}</p>}
          {columns.value && <Columns of={columns.value} open={!found} />}
          <Radius />
          <ReadKeys />
        </>
      )}
      {found && <LogAnswer {...found} />}
    </>
  );
}
