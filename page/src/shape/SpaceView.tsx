// SPDX-License-Identifier: Apache-2.0
// The free space in 3D round the pan and among the obstacles, the litres by depth beside it.

import { useSignal, useSignalEffect } from "@preact/signals";
import { useMemo } from "preact/hooks";
import { gotBytes, Refused } from "../api";
import { Chart, linkOf } from "../chart";
import type { Work } from "../protocol";
import type { Kind } from "../view/contract";
import { PanView } from "../view/PanView";
import { sceneOf, type ScenePart } from "../view/scene_file";
import type { SpaceAnswer } from "./answer";

const SHOWN: readonly Kind[] = ["outside", "obstacle", "space"];
const link = linkOf("space");

export function SpaceView({ space, work }: { space: SpaceAnswer; work: Work }) {
  return (
    <div class="space-two">
      <Solid of={work.key ?? ""} key={work.key} />
      <Curve space={space} />
    </div>
  );
}

/** Of the answer with that key, and no other: its file may have been written anew since. */
function Solid({ of }: { of: string }) {
  const parts = useSignal<readonly ScenePart[]>([]);
  const came = useSignal(false);
  const problem = useSignal("");
  useSignalEffect(() => {
    gotBytes(`/api/space/${of}`).then(
      (bytes) => {
        parts.value = sceneOf(bytes).parts;
        came.value = true;
      },
      (error: unknown) => {
        problem.value = error instanceof Refused ? error.message : "the server did not answer; see whether it still runs";
        came.value = true;
      },
    );
  });
  if (!came.value) return <p class="quiet">Drawing the free space …</p>;
  return (
    <div class="on-screen">
      <PanView of="pan" more={parts} show={SHOWN} label="The free space, the pan and the obstacles in 3D" />
      {problem.value && <p class="note">The free space is not in the picture: {problem.value}.</p>}
    </div>
  );
}

function Curve({ space }: { space: SpaceAnswer }) {
  const { lines, limits } = useMemo(
    () => ({
      lines: [{ name: "free space", values: space.curve_m3, look: { ink: "--free-line", width: 3 } }],
      limits: space.fill ? [{ at: space.fill.fill_m3, words: "the fill", is: "mark" as const }] : [],
    }),
    [space],
  );
  return (
    <Chart
      title="Litres down to a depth"
      yIn="volume"
      x={space.curve_depth_m}
      xIn="length"
      xWords="Depth below the rail"
      lines={lines}
      limits={limits}
      link={link}
      high={15}
      zooms={false}
    />
  );
}
