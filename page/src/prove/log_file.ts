// SPDX-License-Identifier: Apache-2.0
// A log's rows as the server packs them (web/log_pack.py): numbers in their bytes, none copied.

import { gotBytes } from "../api";

export interface LogChannel {
  role: string;
  means: string;
  column: string;
  unit: string;
  si: string;
  /** [s], rising */
  time: Float64Array;
  /** SI; NaN in a gap */
  value: Float32Array;
}

export interface LogFile {
  name: string;
  layout: string;
  typed: boolean;
  channels: ReadonlyMap<string, LogChannel>;
  rows: number;
}

interface Row extends Omit<LogChannel, "time" | "value"> {
  count: number;
  time_at: number;
  at: number;
}

export function unpacked(data: ArrayBuffer): LogFile {
  const view = new DataView(data);
  const mark = String.fromCharCode(...new Uint8Array(data, 0, 4));
  if (mark !== "SPL1") throw new Error("the server sent something else than a log's rows");
  const size = view.getUint32(4, true);
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(data, 8, size)));
  const start = 8 + size;
  const clocks = new Map<number, Float64Array>(); // charts keep what they made of an array by it
  const channels = (head.channels as Row[]).map(({ count, time_at, at, ...said }): LogChannel => {
    const time = clocks.get(time_at) ?? new Float64Array(data, start + time_at, count);
    clocks.set(time_at, time);
    return { ...said, time, value: new Float32Array(data, start + at, count) };
  });
  return {
    name: head.name,
    layout: head.layout,
    typed: head.typed,
    channels: new Map(channels.map((c) => [c.role, c])),
    rows: Math.max(0, ...channels.map((c) => c.time.length)),
  };
}

const KEPT = 3;
const files = new Map<string, Promise<LogFile>>();

/** The rows of a log; `version` tells apart what it was understood as. */
export function logFile(name: string, version: string): Promise<LogFile> {
  const key = `${name}\n${version}`;
  let file = files.get(key);
  if (!file) {
    file = gotBytes(`/api/log?${new URLSearchParams({ name })}`).then(unpacked);
    file.catch(() => files.delete(key));
    files.set(key, file);
    for (const old of [...files.keys()].slice(0, -KEPT)) files.delete(old);
  }
  return file;
}
