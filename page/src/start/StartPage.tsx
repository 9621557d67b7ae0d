// SPDX-License-Identifier: Apache-2.0
// Where nothing is open yet: a new job, the demo, or a folder. One more key, and there is a verdict.

import { signal, useSignal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { useEffect } from "preact/hooks";
import { got, posted, Refused } from "../api";
import type { Problem, ServerState } from "../protocol";
import { Drop } from "../shell/Drop";
import { Notices } from "../shell/Notices";
import { ProblemText } from "../shell/Problems";
import { ThemeSwitch } from "../shell/theme";
import { folder, job, take, version } from "../state";
import { choosing } from "./leave";
import "./start.css";

type Way = "new" | "demo" | "open";

interface Trouble {
  way: Way;
  said: string;
  problems: Problem[];
}

/** What the server has to offer before anything is open. */
interface Offer {
  parent: string;
  new: { fill: Record<string, string> };
  demos: { name: string; says: string }[];
}

const offer = signal<Offer | null>(null);
const trouble = signal<Trouble | null>(null);
const busy = signal<Way | null>(null);

async function begin(way: Way, body: Record<string, string>): Promise<void> {
  [busy.value, trouble.value] = [way, null];
  try {
    take(await posted<ServerState>(`/api/start/${way}`, body));
    choosing.value = false;
    if (way === "demo") location.hash = "#/measure"; // there is something to see before typing
  } catch (error) {
    const refused = error instanceof Refused ? error : null;
    const said = refused?.problems.length ? "" : (refused?.message ?? "The server did not answer.");
    trouble.value = { way, said, problems: refused?.problems ?? [] };
  } finally {
    busy.value = null;
  }
}

function Way({ of, title, children }: { of: Way; title: string; children: ComponentChildren }) {
  const wrong = trouble.value?.way === of ? trouble.value : null;
  return (
    <section class="way" aria-labelledby={`way-${of}`}>
      <h2 id={`way-${of}`}>{title}</h2>
      {children}
      {wrong?.said && (
        <p class="problem" role="alert">
          {wrong.said}
        </p>
      )}
      {wrong?.problems.map((problem) => (
        <ProblemText key={problem.where} problem={problem} />
      ))}
    </section>
  );
}

type Choice = [word: string, shown: string];
type PickProps = { of: string; legend: string; choices: Choice[]; chosen: { value: string } };

const UNITS: Choice[] = [
  ["metric", "mm, L, kPa"],
  ["us", "in, qt, psi"],
];
const PANS: Choice[] = [
  ["minimal", "my own CAD files"],
  ["drawn", "drawn here from numbers"],
];

function Pick({ of, legend, choices, chosen }: PickProps) {
  return (
    <fieldset class="units">
      <legend>{legend}</legend>
      {choices.map(([word, shown]) => (
        <label class="pick" key={word}>
          <input type="radio" name={of} checked={chosen.value === word} onChange={() => (chosen.value = word)} />
          {shown}
        </label>
      ))}
    </fieldset>
  );
}

const fillOf = (units: string): string => offer.value?.new.fill[units] ?? "";

function NewJob() {
  const name = useSignal("my-pan");
  const units = useSignal("metric");
  const fill = useSignal("");
  const template = useSignal("minimal");
  const make = (event: Event) => {
    event.preventDefault();
    const oil = fill.value.trim() || fillOf(units.value);
    void begin("new", { folder: name.value.trim(), units: units.value, fill: oil, template: template.value });
  };
  const typed = (into: { value: string }) => (e: Event) => (into.value = (e.target as HTMLInputElement).value);
  return (
    <Way of="new" title="New job">
      <p>A made-up pan for your oil fill stands in until you drop your own geometry in, or change its numbers.</p>
      <form onSubmit={make}>
        <label for="new-name">Folder for the job</label>
        <input id="new-name" value={name.value} onInput={typed(name)} required autocomplete="off" spellcheck={false} />
        <label for="new-fill">Oil at the full mark</label>
        <input
          id="new-fill"
          value={fill.value}
          placeholder={fillOf(units.value)}
          onInput={typed(fill)}
          autocomplete="off"
          spellcheck={false}
        />
        <Pick of="pan" legend="The new pan" choices={PANS} chosen={template} />
        <Pick of="units" legend="Units" choices={UNITS} chosen={units} />
        {offer.value && <p class="quiet where">It is made in {offer.value.parent}</p>}
        <button class="main" disabled={busy.value !== null}>
          {busy.value === "new" ? "Making it …" : "Make the job"}
        </button>
      </form>
    </Way>
  );
}

const DEMO_WORDS: Record<string, string> = {
  "demo-a": "Demo, revision A",
  "demo-b": "Demo, revision B",
  "demo-c": "Demo, revision C, drawn from numbers",
};

/** Two sentences of it. */
const first = (says: string): string => says.split(/(?<=\.) /).slice(0, 2).join(" ");

function Demo() {
  return (
    <Way of="demo" title="Look at the demo">
      <p>
        A job of an invented shop in three revisions, with its manoeuvres and logs. You get a copy: nothing in
        it can be spoilt.
      </p>
      <div class="demos">
        {(offer.value?.demos ?? []).map((demo) => (
          <div key={demo.name}>
            <button disabled={busy.value !== null} onClick={() => void begin("demo", { demo: demo.name })}>
              {busy.value === "demo" ? "Laying it out …" : DEMO_WORDS[demo.name] ?? demo.name}
            </button>
            <p class="quiet">{first(demo.says)}</p>
          </div>
        ))}
      </div>
    </Way>
  );
}

function OpenFolder() {
  const where = useSignal("");
  const open = (event: Event) => {
    event.preventDefault();
    void begin("open", { folder: where.value.trim() });
  };
  return (
    <Way of="open" title="Open a job">
      <p>The folder that holds job.yaml.</p>
      <form onSubmit={open}>
        <label for="open-folder">Folder</label>
        <input
          id="open-folder"
          value={where.value}
          onInput={(e) => (where.value = (e.target as HTMLInputElement).value)}
          required
          autocomplete="off"
          spellcheck={false}
        />
        <button disabled={busy.value !== null}>{busy.value === "open" ? "Opening …" : "Open it"}</button>
      </form>
    </Way>
  );
}

async function look(): Promise<void> {
  offer.value = await got<Offer>("/api/start").catch(() => offer.value);
}

export function StartPage() {
  useEffect(() => void look(), []);
  return (
    <div class="start">
      <header>
        <h1>Sumpwright</h1>
        <p class="lead">
          Will the low pan clear the car, hold the oil, and keep its pickup covered? Find out before metal is
          cut.
        </p>
        {folder.value !== null && (
          <p>
            <button onClick={() => (choosing.value = false)}>Back to {job.value?.name ?? "the job"}</button>
          </p>
        )}
      </header>
      <main id="sheet" tabIndex={-1}>
        <Drop />
        <Notices />
        <div class="ways">
          <NewJob />
          <Demo />
          <OpenFolder />
        </div>
      </main>
      <footer>
        <ThemeSwitch />
        <p class="quiet">
          Everything stays on this machine. The figures aid judgement and release nothing: prove a pan before
          you trust it. Version {version.value}.
        </p>
      </footer>
    </div>
  );
}
