// SPDX-License-Identifier: Apache-2.0
// The dipstick on its side, its marked end to scale, with what to file where.

import { shown } from "../shown";
import type { DipstickScale, PanFill } from "./answer";

const [FIRST, LAST] = [60, 860];

export function Dipstick({ fill }: { fill: PanFill }) {
  const scale = fill.dipstick;
  if (!scale)
    return <p class="note">No dipstick is typed for this pan: where its tube starts and which way it goes, under 00 Numbers, gives its marks.</p>;
  return (
    <figure class="stick">
      <Stick scale={scale} fill={fill} />
      <figcaption>
        <ul class="stick-file">
          <li>
            File <b>full</b> at <b class="figure">{shown(scale.full_along_m, "length")}</b> from the stop
          </li>
          {scale.low_along_m !== null && (
            <li>
              File <b>low</b> at <b class="figure">{shown(scale.low_along_m, "length")}</b>
            </li>
          )}
          <li class="quiet">
            The reading ends at {shown(scale.low_end_along_m, "length")}
            {fill.stock?.dipstick && `; the stock full mark is at ${shown(fill.stock.dipstick.full_along_m, "length")}`}.
          </li>
        </ul>
      </figcaption>
    </figure>
  );
}

function Stick({ scale, fill }: { scale: DipstickScale; fill: PanFill }) {
  const marks = scale.graduations;
  const end = scale.low_end_along_m;
  const start = Math.min(scale.full_along_m, ...marks.map((g) => g.along_m));
  const at = (along: number): number => FIRST + ((along - start) / (end - start || 1)) * (LAST - FIRST);
  let last = Infinity;
  const worded = marks.filter((g) => {
    if (last - at(g.along_m) < 62) return false;
    last = at(g.along_m);
    return true;
  });
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label="Dipstick">
      <svg viewBox="0 0 900 132" role="img" aria-label={words(scale, fill)}>
        <path d={`M14 52h26l8 13l-8 13h-26z`} class="stick-stop" />
        <path d={`M${FIRST - 14} 52l8 13l-8 13M${FIRST - 14} 52H${LAST - 12}l12 13l-12 13H${FIRST - 14}`} class="stick-steel" />
        {marks.map((g) => (
          <path d={`M${at(g.along_m)} 52v12`} class="stick-line" key={g.volume_m3} />
        ))}
        {worded.map((g) => (
          <text x={at(g.along_m)} y="42" text-anchor="middle" key={g.volume_m3}>
            {shown(g.volume_m3, "volume")}
          </text>
        ))}
        <Notch x={at(scale.full_along_m)} words="full" />
        {scale.low_along_m !== null && <Notch x={at(scale.low_along_m)} words="low" />}
      </svg>
    </div>
  );
}

function Notch({ x, words }: { x: number; words: string }) {
  return (
    <g>
      <path d={`M${x} 50v44`} class="stick-notch" />
      <text x={x} y="116" text-anchor="middle" class="stick-word">
        {words}
      </text>
    </g>
  );
}

function words(scale: DipstickScale, fill: PanFill): string {
  const low = scale.low_along_m === null ? "" : `, low at ${shown(scale.low_along_m, "length")}`;
  return `Dipstick of ${fill.name}: full at ${shown(scale.full_along_m, "length")} from the stop${low}.`;
}
