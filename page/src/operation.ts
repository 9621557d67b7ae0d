// SPDX-License-Identifier: Apache-2.0
// The operations of the route card, in the order of the work. Sheets come when they are opened.

import type { ComponentType } from "preact";

export interface Operation {
  id: string;
  number: string;
  word: string;
  asks: string;
  sheet: () => Promise<{ default: ComponentType }>;
}

export const OPERATIONS: readonly Operation[] = [
  {
    id: "numbers",
    number: "00",
    word: "Numbers",
    asks: "What is typed?",
    sheet: () => import("./numbers/Sheet"),
  },
  {
    id: "measure",
    number: "10",
    word: "Measure",
    asks: "What does it hold, and does it fit?",
    sheet: () => import("./measure/Sheet"),
  },
  {
    id: "shape",
    number: "15",
    word: "Shape",
    asks: "What shape is it, and where is room for more?",
    sheet: () => import("./shape/Sheet"),
  },
  {
    id: "hold",
    number: "20",
    word: "Hold",
    asks: "At what g does the pickup uncover, and which way round?",
    sheet: () => import("./hold/Sheet"),
  },
  {
    id: "drive",
    number: "30",
    word: "Drive",
    asks: "Where does the oil go in a manoeuvre?",
    sheet: () => import("./drive/Sheet"),
  },
  {
    id: "feed",
    number: "40",
    word: "Feed",
    asks: "Does the pump get oil, cold and hot?",
    sheet: () => import("./feed/Sheet"),
  },
  {
    id: "make",
    number: "45",
    word: "Make",
    asks: "What do I cut, bend, weld, print, buy?",
    sheet: () => import("./make/Sheet"),
  },
  {
    id: "prove",
    number: "50",
    word: "Prove",
    asks: "What do I run, and what did the log say?",
    sheet: () => import("./prove/Sheet"),
  },
  {
    id: "strip",
    number: "60",
    word: "Strip",
    asks: "What did the bench and the teardown say?",
    sheet: () => import("./strip/Sheet"),
  },
  {
    id: "release",
    number: "70",
    word: "Release",
    asks: "May I sell it?",
    sheet: () => import("./release/Sheet"),
  },
];
