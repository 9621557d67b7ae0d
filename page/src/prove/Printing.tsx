// SPDX-License-Identifier: Apache-2.0
// Reports of a question, set by the server: made here, then opened or looked at.

import { workOn } from "../state";
import { Asking } from "./Asking";

interface PrintingProps {
  question: string;
  args?: Record<string, unknown>;
  /** On the key, such as `Make the sheets to print` */
  words: string;
  doing: string;
  again: string;
}

const addressOf = (file: string): string => `/api/out/${file.split("/").map(encodeURIComponent).join("/")}`;

function kindOf(file: string): string {
  const end = file.slice(file.lastIndexOf(".") + 1).toUpperCase();
  return end === "PDF" ? "PDF, A4" : end;
}

/** Files that a question wrote, and the first page to look at. */
export function Files({ files }: { files: readonly string[] }) {
  const page = files.find((f) => f.endsWith(".html"));
  return (
    <>
      <p class="tools">
        {files.map((file) => (
          <a key={file} class="button" href={addressOf(file)} target="_blank" rel="noopener">
            {kindOf(file)} <span class="quiet file-name">{file}</span>
          </a>
        ))}
      </p>
      {page && (
        <details class="on-screen">
          <summary>Look at them here</summary>
          <iframe class="report" src={addressOf(page)} title={page} loading="lazy" />
        </details>
      )}
    </>
  );
}

export function Printing({ question, args = {}, words, doing, again }: PrintingProps) {
  const asked = { question, args };
  const work = workOn("print", asked);
  return (
    <>
      <Asking question="print" args={asked} words={words} doing={doing} again={again} />
      {work?.state === "done" && work.stale && (
        <p class="note">The job has changed since these were made: make them again.</p>
      )}
      {work?.state === "done" && <Files files={work.files} />}
    </>
  );
}
