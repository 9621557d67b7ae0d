// SPDX-License-Identifier: Apache-2.0
// Sheet parts: what is cut and bent, what its drawing warns of, and how it lies on the sheet.

import type { Work } from "../protocol";
import { fine, mass, money, size } from "../shape/made";
import { addressOf, Fetch, Findings, Picture, Study, Verdict } from "../shape/Study";
import { shown } from "../shown";
import type { SheetsAnswer } from "./answer";

export function Sheets() {
  return (
    <section>
      <h2>Sheet parts</h2>
      <Study<SheetsAnswer>
        question="sheets"
        words="Lay the parts flat"
        doing="Laying the parts flat"
        again="Lay them flat anew"
        takes="Takes some seconds."
      >
        {(sheets, work) => (
          <>
            <Verdict stand={sheets.verdict}>
              {sheets.parts.length} parts{sheets.verdict === "met" ? " can be cut and bent" : "; not all can be cut and bent as they are"}
            </Verdict>
            <Table sheets={sheets} work={work} />
            <Findings findings={[...sheets.parts.flatMap((part) => part.warnings), ...sheets.findings]} />
            <Nests sheets={sheets} work={work} />
            <Bends sheets={sheets} />
            <details class="fold on-screen">
              <summary>Flat patterns</summary>
              <Patterns sheets={sheets} work={work} />
            </details>
            <Fetch work={work} only={(file) => file.endsWith(".dxf")} />
            <p class="quiet">The cutter's own kerf is left to whoever cuts: outlines are the part's true edge.</p>
          </>
        )}
      </Study>
    </section>
  );
}

function Table({ sheets, work }: { sheets: SheetsAnswer; work: Work }) {
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label="Sheet parts">
      <table>
        <thead>
          <tr>
            <th>Part</th>
            <th>Sheet</th>
            <th class="num">Flat</th>
            <th class="num">Bends</th>
            <th class="num">Mass</th>
            <th class="num">Cost</th>
            <th>Warns</th>
          </tr>
        </thead>
        <tbody>
          {sheets.parts.map((part) => (
            <tr key={part.key}>
              <th scope="row">
                <Drawing work={work} name={part.key}>
                  {part.name}
                </Drawing>
              </th>
              <td>
                {part.material}, {shown(part.thickness_m, "length")}
              </td>
              <td class="num">{size(part.size_m)}</td>
              <td class="num">{part.bends.length}</td>
              <td class="num">{mass(part.mass_kg)}</td>
              <td class="num">{money(part.cost, sheets.currency)}</td>
              <td>{warned(part.warnings.filter((w) => w.severity !== "note").length)}</td>
            </tr>
          ))}
          {sheets.pins.map((pin) => (
            <tr key={pin.name}>
              <th scope="row">{pin.name}</th>
              <td colSpan={6}>
                round bar {fine(pin.diameter)}, {shown(pin.length, "length")} long
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

const warned = (count: number): string => (count === 0 ? "–" : count === 1 ? "1 warning" : `${count} warnings`);

function Drawing({ work, name, children }: { work: Work; name: string; children: string }) {
  const file = `sheets/${name}.svg`;
  if (!work.files.includes(file)) return <>{children}</>;
  return (
    <a href={addressOf(file)} target="_blank" rel="noopener">
      {children}
    </a>
  );
}

function Nests({ sheets, work }: { sheets: SheetsAnswer; work: Work }) {
  return (
    <>
      {sheets.sheets.map((sheet) => (
        <div key={sheet.key}>
          <p>
            <b>{sheet.stock}</b>: {sheet.laid.length} parts, {(100 * sheet.used).toFixed(0)} % of it becomes parts
            {sheet.price !== null && `; ${money(sheet.price, sheets.currency)}`}.
          </p>
          <Picture work={work} file={`sheets/${sheet.key}.svg`} says={`How the parts lie on ${sheet.stock}`} />
        </div>
      ))}
    </>
  );
}

function Bends({ sheets }: { sheets: SheetsAnswer }) {
  return (
    <>
      {sheets.strips.map((strip) => (
        <p key={strip.material + strip.thickness}>
          {strip.material}, {shown(strip.thickness, "length")}: k {strip.k.toFixed(3)} by the shop's own strip; the table has{" "}
          {strip.table.toFixed(3)}.
        </p>
      ))}
    </>
  );
}

function Patterns({ sheets, work }: { sheets: SheetsAnswer; work: Work }) {
  return (
    <div class="drawings">
      {sheets.parts.map((part) => (
        <Picture work={work} file={`sheets/${part.key}.svg`} says={`Flat pattern of ${part.name}`} key={part.key} />
      ))}
    </div>
  );
}
