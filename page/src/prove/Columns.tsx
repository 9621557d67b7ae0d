// SPDX-License-Identifier: Apache-2.0
// Which column is what, and in which unit: as guessed, as the job keeps it, as a person says it now.

import type { LogColumns, LogRole } from "./read_answer";
import { channel, isOthers, unit } from "./reading";
import { Wide } from "./Wide";

/** Shown at once; the others are seldom asked for. */
const USUAL = ["time", "pressure", "rpm", "temperature", "ay", "ax", "speed"];

const without = (of: Readonly<Record<string, string>>, role: string): Record<string, string> =>
  Object.fromEntries(Object.entries(of).filter(([key]) => key !== role));

/** What is as it stands already is not said. */
function say(of: typeof channel, role: string, text: string, usual: string): void {
  of.value = text === usual ? without(of.value, role) : { ...of.value, [role]: text };
}

/** A column that counts the other way stands with a minus before its name. */
const bare = (name: string): string => name.replace(/^-/, "");

/** A column that was given to another role is not guessed for this one as well. */
function isTaken(role: LogRole): boolean {
  return Object.entries(channel.value).some(([other, name]) => other !== role.role && bare(name) === role.column);
}

function columnOf(role: LogRole): { name: string; turned: boolean } {
  const given = channel.value[role.role];
  if (given === undefined) return { name: isTaken(role) ? "" : (role.column ?? ""), turned: role.turned };
  return { name: role.turns ? bare(given) : given, turned: role.turns && given.startsWith("-") };
}

/** What cannot be done without and has no column: a log is not read before it is said. */
export const lacking = (of: LogColumns): LogRole[] => of.roles.filter((r) => r.needed && !columnOf(r).name);

function put(role: LogRole, name: string, turned: boolean): void {
  const usual = role.column ? `${role.turned ? "-" : ""}${role.column}` : "";
  say(channel, role.role, name ? `${turned ? "-" : ""}${name}` : "", usual);
}

function UnitChoice({ role, said }: { role: LogRole; said: string }) {
  if (role.role === "gear" || role.role === "lap") return <span class="quiet">–</span>;
  const kept = isOthers(role) ? "" : (role.kept_unit ?? "");
  const value = unit.value[role.role] ?? kept;
  const units = value && !role.units.includes(value) ? [value, ...role.units] : role.units;
  return (
    <select
      aria-label={`Unit of ${role.means}`}
      value={value}
      onChange={(e) => say(unit, role.role, (e.target as HTMLSelectElement).value, kept)}
    >
      <option value="">{said ? `${said}, as the file says` : "not said: guess it"}</option>
      {units.map((u) => (
        <option key={u} value={u}>
          {u}
          {u === kept ? ", kept in the job" : ""}
        </option>
      ))}
    </select>
  );
}

function How({ role }: { role: LogRole }) {
  if (channel.value[role.role] !== undefined) return <>said now</>;
  if (!role.column) return role.needed ? <b>needed: say which</b> : <>not there</>;
  if (isOthers(role)) return <>no {role.kept_column} here</>;
  return <>{role.how}</>;
}

function Row({ of, role }: { of: LogColumns; role: LogRole }) {
  const { name, turned } = columnOf(role);
  const column = of.columns.find((c) => c.name === name);
  const lacks = role.needed && !name;
  if (!role.keeps) return <Fixed role={role} name={name} />;
  return (
    <tr class={lacks ? "is-lacking" : ""}>
      <th scope="row">{role.means}</th>
      <td>
        <select
          aria-label={`Column of ${role.means}`}
          value={name}
          onChange={(e) => put(role, (e.target as HTMLSelectElement).value, turned)}
        >
          {!role.column && <option value="">none</option>}
          {of.columns.map((c) => (
            <option key={c.name} value={c.name}>
              {c.name}
            </option>
          ))}
        </select>
        {role.turns && name && (
          <label class="pick turned">
            <input
              type="checkbox"
              checked={turned}
              onChange={(e) => put(role, name, (e.target as HTMLInputElement).checked)}
            />
            counts the other way
          </label>
        )}
      </td>
      <td>{name && <UnitChoice role={role} said={column?.unit ?? ""} />}</td>
      <td class="quiet">{column?.sample.join(", ") ?? ""}</td>
      <td class="quiet">
        <How role={role} />
      </td>
    </tr>
  );
}

/** The job keeps no name for these: they are found by the column's own. */
function Fixed({ role, name }: { role: LogRole; name: string }) {
  return (
    <tr>
      <th scope="row">{role.means}</th>
      <td>{name || <span class="quiet">none</span>}</td>
      <td>{name && role.unit}</td>
      <td />
      <td class="quiet">{role.how || "not there"}</td>
    </tr>
  );
}

function Table({ of, roles }: { of: LogColumns; roles: readonly LogRole[] }) {
  return (
    <Wide of="Columns">
      <table>
        <thead>
          <tr>
            <th scope="col">It is</th>
            <th scope="col">Column</th>
            <th scope="col">Unit</th>
            <th scope="col">First values</th>
            <th scope="col">Why</th>
          </tr>
        </thead>
        <tbody>
          {roles.map((role) => (
            <Row key={role.role} of={of} role={role} />
          ))}
        </tbody>
      </table>
    </Wide>
  );
}

export function Columns({ of, open }: { of: LogColumns; open: boolean }) {
  const first = of.roles.filter((r) => USUAL.includes(r.role) || r.column);
  const rest = of.roles.filter((r) => !first.includes(r));
  const lacks = lacking(of).length > 0;
  return (
    <details class="columns" open={open || lacks}>
      <summary>
        Columns of {of.name}
        <span class="quiet">{of.layout}</span>
      </summary>
      <p class="quiet">What is said here is kept in the job for the next log.</p>
      <Table of={of} roles={first} />
      {rest.length > 0 && (
        <details>
          <summary>What else a log may have</summary>
          <Table of={of} roles={rest} />
        </details>
      )}
    </details>
  );
}
