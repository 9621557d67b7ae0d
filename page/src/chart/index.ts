// SPDX-License-Identifier: Apache-2.0
// Charts. How to use them:
//
//   const link = linkOf("drive");        // one cursor and one zoom for all that share the key
//   <ZoomKeys link={link} />             // once for the stack; a chart without `link` has its own
//   <Chart
//     title="Oil pressure" yIn="pressure"             // a kind of units.py: SI in, job's unit shown
//     x={time} xIn="time" xWords="Time" link={link}   // rising; typed arrays are not copied
//     lines={[{ name: "measured", values: pressure }, { name: "expected", values: model, look: 3 }]}
//     limits={[{ at: 80e3, words: "stop below 80 kPa", is: "least" }]}
//     bands={[{ low, high, words: "expected" }]}
//     spans={dips.map((d) => ({ from: d.start_s, to: d.end_s, words: "dip, left", look: "bad" }))}
//     spots={[{ x: 3.2, y: 240e3, words: "least" }]}
//     onSpan={(k) => choose(k)} chosen={k}            // then spans are keys, by hand and keyboard
//     longest={0.5}                                   // x further apart than this is a gap
//     foot={false}                                    // in a stack, all but the last
//   />
//   asIs("g", 2) is a unit for numbers that are shown as they stand. NaN or null is a gap.
//   link.at (signal, x in data) is the cursor, link.show(from, to) zooms to a stretch, link.point(x)
//   moves the cursor there. A line may have its own `x`. Long series: keep the arrays' identity from
//   one render to the next (what makes zoom quick is kept by it), any number of rows will do.

export { Chart } from "./Chart";
export { between, firstAtLeast, nearest } from "./find";
export { Swatch } from "./Key";
export { Link, linkOf, type Window } from "./link";
export type { Band, ChartProps, Limit, Line, Span, Spot } from "./model";
export { asIs, fixed, nameOf, numberIn, saidIn, type Unit } from "./unit";
export { Polar, type RoundCurve, type RoundSpot } from "./Polar";
export { aroundAt, wayWords } from "./round";
export { ZoomKeys } from "./ZoomKeys";
