// SPDX-License-Identifier: Apache-2.0
// The typed numbers that a line of the ledger turns on, each a step away from being changed.

import { fieldsByKey, type Field } from "../numbers/form";
import { goTo } from "../numbers/goal";

/** Keys, or sections where they end in a point, by the beginning of the requirement's id. */
const TURNS_ON: readonly (readonly [string, readonly string[]])[] = [
  ["capacity", ["oil.fill", "new.fill", "new.cavity", "engine.crank.", "oil.hot"]],
  ["crank_gap", ["oil.fill", "new.fill", "oil.hot", "engine.crank.", "pose."]],
  ["clearance.", ["new.outside", "pose.", "requirements.clearance"]],
  ["guard", ["new.outside", "pose."]],
  ["ground_at_bump", ["new.outside", "pose.", "ride."]],
  ["ground", ["new.outside", "pose."]],
  ["floor_gap", ["new.pickup."]],
  ["hold_", ["oil.fill", "new.pickup.", "engine.rpm", "oil.hot"]],
  ["slope_", ["oil.fill", "new.pickup.", "engine.rpm"]],
  ["target_", ["requirements.hold_time", "oil.fill", "new.pickup.", "engine.rpm"]],
  ["dry_spell.", ["requirements.dry_spell", "oil.fill", "new.pickup.", "engine.rpm"]],
  ["inlet_hot", ["engine.rpm", "oil.hot", "new.suction."]],
  ["inlet_cold", ["engine.cold_rpm", "oil.cold", "new.suction."]],
  ["inlet.", ["requirements.inlet_hot", "requirements.inlet_cold", "new.suction."]],
];

const MOST = 8;

function fieldsOf(id: string): Field[] {
  const known = fieldsByKey.value;
  const keys = TURNS_ON.find(([start]) => id.startsWith(start))?.[1] ?? [];
  const wanted = [`requirements.${id}`, ...keys];
  const found = [...known.values()].filter((field) =>
    wanted.some((key) => (key.endsWith(".") ? field.key.startsWith(key) : field.key === key)),
  );
  return found.filter((field) => field.typed !== null || field.default !== null).slice(0, MOST);
}

export function Inputs({ id }: { id: string }) {
  const fields = fieldsOf(id);
  if (!fields.length) return null;
  return (
    <details class="inputs">
      <summary>Numbers behind it</summary>
      <ul>
        {fields.map((field) => (
          <li key={field.key}>
            <button class="plain" onClick={() => goTo(field.key)}>
              <span>{field.kind === "file" ? field.key.replaceAll(".", " · ") : field.label}</span>
              <b>{field.typed ?? field.default}</b>
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}
