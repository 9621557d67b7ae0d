// SPDX-License-Identifier: Apache-2.0
// The sheet of the open operation. One that throws says so and leaves the rest alive.

import { signal } from "@preact/signals";
import { Component, type ComponentChildren, type ComponentType } from "preact";
import { useEffect, useLayoutEffect } from "preact/hooks";
import { OPERATIONS, type Operation } from "../operation";
import { job, operation } from "../state";

type Came = ComponentType | { failed: string };
const sheets = signal<ReadonlyMap<string, Came>>(new Map());

async function fetchSheet(of: Operation): Promise<void> {
  let came: Came;
  try {
    came = (await of.sheet()).default;
  } catch (error) {
    came = { failed: error instanceof Error ? error.message : String(error) };
  }
  sheets.value = new Map(sheets.value).set(of.id, came);
}

function Broken({ of, why, again }: { of: Operation; why: string; again: () => void }) {
  return (
    <>
      <h1>{of.word}</h1>
      <div class="problem" role="alert">
        <p>
          <strong>This sheet could not be shown.</strong> A fault of this program, not of your job; nothing
          typed is lost. It said: {why}
        </p>
        <button onClick={again}>Show it again</button>
      </div>
    </>
  );
}

class Boundary extends Component<{ of: Operation; children: ComponentChildren }, { why: string | null }> {
  override state = { why: null };

  static override getDerivedStateFromError(error: unknown): { why: string } {
    return { why: error instanceof Error ? error.message : String(error) };
  }

  render() {
    const { why } = this.state;
    if (why === null) return this.props.children;
    return <Broken of={this.props.of} why={why} again={() => this.setState({ why: null })} />;
  }
}

export function SheetPlace() {
  const of = OPERATIONS.find((o) => o.id === operation.value) ?? OPERATIONS[0]!;
  useEffect(() => {
    document.title = `${of.number} ${of.word} · ${job.value?.name ?? "Sumpwright"}`;
    if (!sheets.value.has(of.id)) void fetchSheet(of);
  }, [of, job.value?.name]);
  useLayoutEffect(() => scrollTo(0, 0), [of]); // before a field that is gone to scrolls itself in
  const came = sheets.value.get(of.id);
  if (!came) return <p class="quiet">Fetching the sheet …</p>;
  if ("failed" in came) return <Broken of={of} why={came.failed} again={() => void fetchSheet(of)} />;
  const Sheet = came;
  return (
    <Boundary key={of.id} of={of}>
      <Sheet />
    </Boundary>
  );
}
