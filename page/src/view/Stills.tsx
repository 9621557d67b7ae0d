// SPDX-License-Identifier: Apache-2.0
// Where the browser cannot draw in 3D: a plain sentence, and the report's still pictures.

import { useSignal } from "@preact/signals";
import { ask, workOn } from "../state";

const ARGS = { question: "check", args: {} };

export function Stills() {
  const problem = useSignal<string | null>(null);
  const work = workOn("print", ARGS);
  const make = async () => {
    const refused = await ask("print", ARGS);
    problem.value = refused ? refused.message : null;
  };
  return (
    <div class="note">
      <p>
        This browser cannot draw in 3D here: it has no WebGL, or it is switched off. Every number on this sheet stands all the
        same, and the report has still pictures of the pan.
      </p>
      {work?.state === "done" && !work.stale ? (
        <ul>
          {work.files.map((file) => (
            <li key={file}>
              <a href={`/api/out/${file}`} target="_blank" rel="noreferrer">
                {file}
              </a>
            </li>
          ))}
        </ul>
      ) : (
        <button type="button" disabled={work?.state === "running" || work?.state === "waiting"} onClick={() => void make()}>
          {work?.state === "running" ? `Making them: ${work.text}` : "Make the report's pictures"}
        </button>
      )}
      {problem.value && <p class="problem">{problem.value}</p>}
    </div>
  );
}
