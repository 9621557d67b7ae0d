// SPDX-License-Identifier: Apache-2.0
// 00 Numbers: everything typed in job.yaml, as it is typed there.

import { useRef } from "preact/hooks";
import { form, formFault, reloadForm } from "./form";
import { Sections } from "./SectionPart";
import { sought } from "./seek";
import "./numbers.css";

function Search() {
  const box = useRef<HTMLInputElement>(null);
  const clear = () => {
    sought.value = "";
    if (box.current) box.current.value = "";
  };
  return (
    <p class="search on-screen" role="search">
      <label for="seek">Find a number</label>
      <input
        ref={box}
        id="seek"
        type="search"
        placeholder="fill, rack, hinge …"
        defaultValue={sought.value}
        onInput={(e) => (sought.value = (e.target as HTMLInputElement).value.trim().toLowerCase())}
        onKeyDown={(e) => e.key === "Escape" && clear()}
      />
    </p>
  );
}

/** The lines round the first one that cannot be read: no form can be made of such a file. */
function Broken() {
  const broken = form.value?.broken;
  if (!broken) return null;
  return (
    <div class="broken">
      <p>job.yaml cannot be read at line {broken.line}. Mend it in an editor; this page notices.</p>
      {broken.lines.map(([number, text]) => (
        <code key={number} class={number === broken.line ? "is-line" : ""}>
          {String(number).padStart(4)} {text}
        </code>
      ))}
    </div>
  );
}

function Body() {
  if (formFault.value) {
    return (
      <div class="problem" role="alert">
        <p>{formFault.value}</p>
        <button onClick={() => void reloadForm()}>Look again</button>
      </div>
    );
  }
  if (!form.value) return <p class="quiet">Reading job.yaml …</p>;
  return form.value.broken ? <Broken /> : <Sections all={form.value.sections} />;
}

export default function Sheet() {
  return (
    <article class="numbers">
      <header class="sheet-head">
        <h1>Numbers</h1>
        <p class="lead">
          What you typed, with its unit, as it stands in job.yaml. Change one and the verdict follows.
        </p>
      </header>
      <Search />
      <Body />
    </article>
  );
}
