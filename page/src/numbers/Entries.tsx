// SPDX-License-Identifier: Apache-2.0
// Entries of a list: one more, or one less.
import type { Section } from "./form";
export function AddEntry(_: { to: Section }) {
  return null;
}
export function TakeOut(_: { of: Section }) {
  return null;
}
