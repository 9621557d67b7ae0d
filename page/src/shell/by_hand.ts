// SPDX-License-Identifier: Apache-2.0
// Where a text calls for a command or its option, the page says where the same is done by hand.

const BY_HAND: readonly [RegExp, string][] = [
  [/: `sumpwright read`/g, " in 50 Prove"],
  [/with `sumpwright record`/g, "in 60 Strip"],
  [/as `sumpwright plan` says/g, "as 50 Prove lays it out"],
  [/with `sumpwright compartments JOB`/g, "in 10 Measure, coloured by compartment"],
  [/with `sumpwright measure`/g, "by dropping the file on this window"],
  [/`sumpwright measure` prints them/g, "they are told when the file is dropped on this window"],
  [/`sumpwright feed`/g, "40 Feed"],
  [/`sumpwright drive JOB NAME`/g, "in 30 Drive"],
  [/, or --unit \w+/g, ""],
  [/: --unit \w+=UNIT/g, " under Columns in 50 Prove"],
  [/: --channel \w+=\S+/g, " under Columns in 50 Prove"],
  [/or set `[^`]+` to off and/g, "or switch it off under Requirements in 00 Numbers and"],
];

/** `text` of the commands, for a person who has only the page. */
export function byHand(text: string): string {
  return BY_HAND.reduce((now, [command, hand]) => now.replace(command, hand), text);
}
