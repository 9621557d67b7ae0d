// SPDX-License-Identifier: Apache-2.0
// Where a text calls for a command or its option, the page says where the same is done by hand.

/** A column as it is named behind an option: in quotes where there is a space in it. */
const NAME = String.raw`(?:"[^"]*"|\S+)`;

const BY_HAND: readonly [RegExp, string][] = [
  [/^--start$/g, "Oil at first"],
  [/^--chance$/g, "Samples for the chances"],
  [/^--seed$/g, "Their seed"],
  [/--kick-out\b/g, "Kick-out, both sides"],
  [/--left\b/g, "Kick-out, left"],
  [/--right\b/g, "Kick-out, right"],
  [/`--wall` takes another/g, "another can be typed"],
  [/^--depth$/g, "Deepest"],
  [/^--front$/g, "Ahead of it"],
  [/^--rear$/g, "Behind it"],
  [/^--flange$/g, "Kick-outs begin"],
  [/^--wall$/g, "Wall"],
  [/^--corner$/g, "Corner radius"],
  [/^--grid$/g, "Grid"],
  [/write it as --start "([^"]*)"/g, "write it as $1"],
  [/: `sumpwright read`/g, " in 50 Prove"],
  [/with `sumpwright record`/g, "in 60 Strip"],
  [/as `sumpwright plan` says/g, "as 50 Prove lays it out"],
  [/with `sumpwright compartments JOB`/g, "in the table of compartments in 20 Hold"],
  [/with `sumpwright measure`/g, "by dropping the file on this window"],
  [/`sumpwright measure` prints them/g, "they are told when the file is dropped on this window"],
  [/look at `sumpwright rail`/g, "look at the rail in 15 Shape"],
  [/look at `sumpwright \w+`/g, "look at it in 45 Make"],
  [/or say --anyway: the pack/g, "or have it made anyway in 45 Make: the pack"],
  [/ \(`sumpwright check` has the figures\)/g, " (the route card leads to the figures)"],
  [/, or find them: --scan with a picture of the gasket, --mesh in the stock pan/g, " under 00 Numbers"],
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
