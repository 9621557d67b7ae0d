// SPDX-License-Identifier: Apache-2.0
// Where a text calls for a command or its option, the page says where the same is done by hand.

/** A column as it is named behind an option: in quotes where there is a space in it. */
const NAME = String.raw`(?:"[^"]*"|\S+)`;

const BY_HAND: readonly [RegExp, string][] = [
  [/^--start$/g, "Oil at first"],
  [/^--chance$/g, "Samples for the chances"],
  [/^--seed$/g, "Their seed"],
  [/write it as --start "([^"]*)"/g, "write it as $1"],
  [/: `sumpwright read`/g, " in 50 Prove"],
  [/with `sumpwright record`/g, "in 60 Strip"],
  [/as `sumpwright plan` says/g, "as 50 Prove lays it out"],
  [/with `sumpwright compartments JOB`/g, "in the table of compartments in 20 Hold"],
  [/with `sumpwright measure`/g, "by dropping the file on this window"],
  [/`sumpwright measure` prints them/g, "they are told when the file is dropped on this window"],
  [/`sumpwright halves`/g, "the program"],
  [/`sumpwright feed`/g, "40 Feed"],
  [/: `sumpwright drive JOB NAME`/g, " in 30 Drive"],
  [/: --unit \w+=UNIT, or name another column: --channel \w+=NAME/g, ", or name another column, under Columns in 50 Prove"],
  [/: --unit \w+=UNIT/g, " under Columns in 50 Prove"],
  [/, or --unit \w+/g, ""],
  [new RegExp(`: --channel \\w+=${NAME}(?: or --channel \\w+=${NAME})*`, "g"), " under Columns in 50 Prove"],
  [/give the circle's --radius/g, "give the circle's radius under Which log? in 50 Prove"],
  [/, or set `[^`]+` to off and/g, ", or switch it off under Requirements in 00 Numbers and"],
];

/** `text` of the commands, for a person who has only the page. */
export function byHand(text: string): string {
  return BY_HAND.reduce((now, [command, hand]) => now.replace(command, hand), text);
}
