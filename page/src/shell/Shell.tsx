// SPDX-License-Identifier: Apache-2.0
// The page: the route card beside the sheet of the open operation.

import { useEffect } from "preact/hooks";
import { begun, folder, job } from "../state";
import { FirstSteps } from "../start/FirstSteps";
import { choosing } from "../start/leave";
import { StartPage } from "../start/StartPage";
import { Spoken } from "./announce";
import { Card, unfolded, VerdictLine } from "./Card";
import { Arrivals } from "./Arrivals";
import { Drop } from "./Drop";
import { Notices } from "./Notices";
import { SheetPlace } from "./SheetPlace";
import "./card.css";
import "./shell.css";

function PaperHead() {
  const today = new Date().toISOString().slice(0, 10);
  return (
    <div class="on-paper paper-head">
      <p>
        <b>{job.value?.name}</b>, revision {job.value?.revision}, printed {today}
      </p>
      <VerdictLine />
    </div>
  );
}

function Work() {
  return (
    <div class="page">
      <Card />
      <main id="sheet" tabIndex={-1}>
        <PaperHead />
        <Drop />
        <Arrivals />
        <Notices />
        <FirstSteps />
        <SheetPlace />
      </main>
    </div>
  );
}

function toSheet(event: Event): void {
  event.preventDefault(); // the address says which sheet is open: leave it
  document.getElementById("sheet")?.focus();
}

export function Shell() {
  useEffect(() => {
    const fold = (event: KeyboardEvent) => {
      if (event.key === "Escape") unfolded.value = false;
    };
    addEventListener("keydown", fold);
    return () => removeEventListener("keydown", fold);
  }, []);
  const start = begun.value && (folder.value === null || choosing.value);
  return (
    <>
      <a class="skip" href="#sheet" onClick={toSheet}>
        To the sheet
      </a>
      {!begun.value ? <Begin /> : start ? <StartPage /> : <Work />}
      <Spoken />
    </>
  );
}

function Begin() {
  return (
    <main class="begin" id="sheet" tabIndex={-1}>
      <Notices />
      <p class="quiet">Looking for the job …</p>
    </main>
  );
}
