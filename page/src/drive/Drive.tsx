// SPDX-License-Identifier: Apache-2.0
// One drive: its verdict, the film with its keys, and all that runs over time.

import type { Signal } from "@preact/signals";
import { useEffect, useMemo } from "preact/hooks";
import { linkOf, ZoomKeys } from "../chart";
import { Printing } from "../prove/Printing";
import { shown } from "../shown";
import type { Kind, Oil } from "../view/contract";
import { PanView } from "../view/PanView";
import { airSpells, DOOR_WORDS, type DriveAnswer } from "./answer";
import { Charts } from "./Charts";
import { Now } from "./Now";
import { PlayBar } from "./PlayBar";
import { doorsOf, oilOf, Player } from "./player";
import { Findings, Verdict } from "./Verdict";

const WRITES = ["INPUT", "SELECT", "TEXTAREA", "BUTTON", "SUMMARY", "A"];

/** What is left to draw of a pan without baffles. */
const BARE: readonly Kind[] = ["outside", "cavity", "compartment", "pickup", "solid"];

interface DriveProps {
  drive: DriveAnswer;
  asked: Record<string, unknown>;
}

export function Drive({ drive, asked }: DriveProps) {
  const link = linkOf("drive");
  const end = drive.time_s[drive.time_s.length - 1] ?? 0;
  const player = useMemo(() => new Player(link, end), [link, end]);
  const oil = useMemo(() => oilOf(drive, link), [drive, link]);
  const doors = useMemo(() => doorsOf(drive, link), [drive, link]);
  const spells = useMemo(() => airSpells(drive), [drive]);
  useEffect(() => {
    link.reset();
    link.point(0);
    return () => player.pause();
  }, [player]);
  const key = (event: KeyboardEvent): void => {
    const on = event.target as HTMLElement;
    if (event.key !== " " || (WRITES.includes(on.tagName) && on.getAttribute("type") !== "range")) return;
    event.preventDefault();
    player.toggle();
  };
  const baffled = drive.doors_are !== "no baffles";
  return (
    <section class="drive" aria-label={`${drive.manoeuvre}, ${DOOR_WORDS[drive.doors_are]}`} onKeyDown={key}>
      <h2>
        {drive.manoeuvre}, {DOOR_WORDS[drive.doors_are]}, oil at {shown(drive.temperature_k, "temperature")}
      </h2>
      <Verdict drive={drive} player={player} />
      <div class="drive-film on-screen">
        <PanView
          of="motion"
          {...(!baffled && { show: BARE })}
          // The view only reads it
          oil={oil as Signal<Oil | null>}
          doors={doors as Signal<Record<string, number>>}
          label="The oil in the pan, at the moment of the slider"
        />
        <Now drive={drive} link={link} />
      </div>
      <PlayBar player={player} spells={spells} />
      <div class="drive-over">
        <h2>Over time</h2>
        <ZoomKeys link={link} />
      </div>
      <Charts drive={drive} link={link} spells={spells} />
      <Findings drive={drive} />
      <div class="on-screen">
        <h2>To print and to send</h2>
        <Printing
          question="drive"
          args={asked}
          words="Make the report with its film"
          doing="Drawing the report"
          again="Make it again"
        />
      </div>
    </section>
  );
}
