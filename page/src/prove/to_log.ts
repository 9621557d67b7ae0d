// SPDX-License-Identifier: Apache-2.0
// From elsewhere on the page to a log that is in the job folder.

import { choose, chosen, listLogs } from "./reading";
import { part } from "./Sheet";

/** The half of the sheet where logs are read, with `name` picked. */
export async function toLog(name: string): Promise<void> {
  part.value = "log";
  await listLogs();
  if (!chosen.value.includes(name)) choose(name);
}
