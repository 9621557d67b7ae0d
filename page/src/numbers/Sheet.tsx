// SPDX-License-Identifier: Apache-2.0
// 00 Numbers: everything typed in job.yaml, as it is typed there.

import { useRef } from "preact/hooks";
import { form, formFault, reloadForm } from "./form";
import { filtered, SectionPart, sought } from "./SectionPart";
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
        onInput={(e) => (sought.value = (e.target as HTMLInputElement).value.trim().toLowerCase())}
        onKeyDown={(e) => e.key === "Escape" && clear()}
      />
    </p>
  );
}

function Sections() {
  const all = form.value?.sections ?? [];
  const found = all.map((s) => filtered(s, sought.value)).filter((s) => s !== null);
  if (!found.length) return <p>Nothing in the job is called that.</p>;
  return (
    <div class="sections">
      {found.map((section) => (
        <SectionPart key={section.key} section={section} />
      ))}
    </div>
  );
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
      {formFault.value && (
        <div class="problem" role="alert">
          <p>{formFault.value}</p>
          <button onClick={() => void reloadForm()}>Look again</button>
        </div>
      )}
      {form.value ? <Sections /> : !formFault.value && <p class="quiet">Reading job.yaml …</p>}
    </article>
  );
}
