// SPDX-License-Identifier: Apache-2.0
// What can hurt someone: the same words as in the reports, in sight where one drives or handles oil.

import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { got } from "../api";

interface Caution {
  topic: string;
  text: string;
}

const all = signal<readonly Caution[]>([]);
let asked = false;

async function fetchAll(): Promise<void> {
  if (asked) return;
  asked = true;
  try {
    all.value = await got<Caution[]>("/api/cautions");
  } catch {
    asked = false; // the line is down: the next sheet asks again
  }
}

/** Said while the words are on their way, or where they cannot be fetched. */
const SHORT =
  "Closed course, its rules, somebody who watches the pressure. Oil and metal are hot after a run. " +
  "Local rules and qualified practice come first.";

/** The cautions on these topics, in this order; all where none is named. */
export function Cautions({ topics }: { topics?: readonly string[] }) {
  useEffect(() => void fetchAll(), []);
  const said = topics
    ? topics.flatMap((topic) => all.value.filter((c) => c.topic === topic))
    : all.value;
  return (
    <aside class="caution" aria-label="Cautions">
      {said.length === 0 && <p>{SHORT}</p>}
      {said.map((c) => (
        <p key={c.topic}>
          <b>{c.topic}.</b> {c.text}
        </p>
      ))}
    </aside>
  );
}
