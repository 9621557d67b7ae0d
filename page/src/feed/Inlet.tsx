// SPDX-License-Identifier: Apache-2.0
// What is left at the pump's inlet over engine speed, a line for each of a few temperatures.

import { useMemo } from "preact/hooks";
import { asIs, Chart, type Line } from "../chart";
import { shown } from "../shown";
import { system } from "../state";
import { fewTemperatures, type Feed } from "./answer";

const RPM = asIs("rpm", 0);

export function Inlet({ feed }: { feed: Feed }) {
  const units = system.value;
  const lines = useMemo(
    (): Line[] =>
      fewTemperatures(feed, 6).map((k) => ({
        name: shown(feed.temperature_k[k], "temperature"),
        // Below nothing the pump cannot draw that flow at all.
        values: feed.inlet_pa[k]!.map((p) => Math.max(p, 0)),
      })),
    [feed, units],
  );
  const { short, continuous } = feed;
  return (
    <Chart
      title="Left at the pump's inlet, absolute"
      yIn="inlet_pressure"
      x={feed.rpm}
      xIn={RPM}
      xWords="Engine speed"
      lines={lines}
      limits={[
        { at: continuous.needed_pa, words: `for good ${shown(continuous.needed_pa, "inlet_pressure")}`, is: "least" },
        { at: short.needed_pa, words: `for a short time ${shown(short.needed_pa, "inlet_pressure")}`, is: "mark", ink: "--not-met" },
      ]}
      reach={[0, feed.ambient_pa]}
      high={17}
    />
  );
}
