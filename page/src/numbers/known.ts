// SPDX-License-Identifier: Apache-2.0
// Files that lie in the job folder, as it was last looked at.

import { signal } from "@preact/signals";
import { got } from "../api";

export type Sort = "geometry" | "log";

export const known = signal<Record<Sort, readonly { name: string }[]>>({ geometry: [], log: [] });

export async function look(as: Sort): Promise<void> {
  const found = await got<{ name: string }[]>(`/api/files?as=${as}`).catch(() => known.value[as]);
  known.value = { ...known.value, [as]: found };
}
