// SPDX-License-Identifier: Apache-2.0
// No text of the commands reaches the page with a command in it: each is said as it is done by hand.

import assert from "node:assert/strict";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { byHand } from "../src/shell/by_hand";

const SOURCE = join(process.cwd(), "..", "src", "sumpwright");
/** What their texts are about is not done on the page, or the text is written into a file. */
const APART = ["job/revision.py", "studies/record.py", "studies/record_form.py"];
/** Where the place of a problem is an option, and what to do is said in another line. */
const PLACE = /^where=/;
const COMMAND = /`sumpwright |(^|[ ('`])--[a-z]/;

/** Modules that the page's server comes to by its imports: what others say, the page never shows. */
function reached(): string[] {
  const found = new Set(readdirSync(join(SOURCE, "web")).filter((n) => n.endsWith(".py")).map((n) => `web/${n}`));
  for (const file of found) {
    const text = readFileSync(join(SOURCE, file), "utf8");
    for (const [, module, names] of text.matchAll(/from sumpwright((?:\.\w+)*) import \(?([\w\s,]+)/g)) {
      const path = module!.slice(1).replaceAll(".", "/");
      const inner = names!.split(",").map((name) => `${path}/${name.trim()}.py`);
      for (const one of [`${path}.py`, ...inner]) if (existsSync(join(SOURCE, one))) found.add(one);
    }
  }
  return [...found].filter((file) => !/^(web|report)\//.test(file));
}

/** Literals with a command or an option in them, names of columns put in for what is filled in. */
function texts(): [file: string, text: string][] {
  const found: [string, string][] = [];
  for (const file of reached().filter((name) => !APART.includes(name))) {
    const rows = readFileSync(join(SOURCE, file), "utf8").replace(/"""[^]*?"""/g, "").split("\n");
    for (const row of rows.map((r) => r.trim())) {
      if (PLACE.test(row) || row.startsWith("#")) continue;
      for (const [, text] of row.matchAll(/"((?:[^"\\]|\\.)*)"/g)) {
        if (COMMAND.test(text!)) found.push([file, text!.replace(/\{[^}]*\}/g, "ay")]);
      }
    }
  }
  return found;
}

test("a command is said as the page does it, wherever a text has one", () => {
  const all = texts();
  assert.ok(all.length > 10, "the sources have moved");
  const left = all.filter(([, text]) => COMMAND.test(byHand(text).replace(/^--channel \w+=\S+$/, "")));
  assert.deepEqual(left, [], "page/src/shell/by_hand.ts says how the page does it");
});

test("what is said by hand reads as a sentence", () => {
  const said: [string, string][] = [
    [
      'If a left-hander reads negative, turn it round: --channel ay="-Lat Acc"',
      "If a left-hander reads negative, turn it round under Columns in 50 Prove",
    ],
    [
      'find out which counts the other way and turn it round: --channel ax=-Ax or --channel ay="-Lat Acc"',
      "find out which counts the other way and turn it round under Columns in 50 Prove",
    ],
    [
      "say it: --unit rpm=UNIT, or name another column: --channel rpm=NAME",
      "say it, or name another column, under Columns in 50 Prove",
    ],
    ["write `unit: mm` (or in, cm, m) beside the file's name, or --unit mm", "write `unit: mm` (or in, cm, m) beside the file's name"],
    ["file it with `sumpwright record`, or set `proof_fill` to off and say so", "file it in 60 Strip, or switch it off under Requirements in 00 Numbers and say so"],
    ['write it as --start "A=1.2 L, B=0.8 L"', "write it as A=1.2 L, B=0.8 L"],
    ["--start", "Oil at first"],
    ["--kick-out and --left", "Kick-out, both sides and Kick-out, left"],
    [
      "look at `sumpwright halves`, change the numbers, or say --anyway: the pack then says so",
      "look at it in 45 Make, change the numbers, or have it made anyway in 45 Make: the pack then says so",
    ],
    ["see which is which with `sumpwright compartments JOB`", "see which is which in the table of compartments in 20 Hold"],
  ];
  for (const [text, hand] of said) assert.equal(byHand(text), hand);
});
