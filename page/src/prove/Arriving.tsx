// SPDX-License-Identifier: Apache-2.0
// A log on its way in; what nobody but the person can say of its columns is asked for here.

import { useSignal } from "@preact/signals";
import { Said } from "./Asking";
import { arriving, bringLog, type Answers, type Question } from "./bring";

function One({ of, value, put }: { of: Question; value: string; put: (text: string) => void }) {
  const words = of.asks === "unit" ? "unit" : `column of ${of.needed.replace(/^a column of /, "")}`;
  return (
    <label class="log-question">
      <span>
        <b>{of.where}</b>: {of.found}
      </span>
      <select value={value} onChange={(e) => put((e.target as HTMLSelectElement).value)}>
        <option value="">{`which ${words}?`}</option>
        {of.choices.map((c) => (
          <option key={c} value={c}>
            {c}
          </option>
        ))}
      </select>
    </label>
  );
}

function Asks({ file, questions }: { file: File; questions: Question[] }) {
  const said = useSignal<Readonly<Record<string, string>>>({});
  const missing = questions.some((q) => !said.value[`${q.asks} ${q.role}`]);
  const send = () => {
    const answers: Answers = { channel: {}, unit: {} };
    for (const q of questions) answers[q.asks][q.role] = said.value[`${q.asks} ${q.role}`]!;
    void bringLog(file, answers);
  };
  return (
    <div class="note">
      <p>
        <b>{file.name}</b> does not say all that is needed:
      </p>
      {questions.map((q) => {
        const key = `${q.asks} ${q.role}`;
        const put = (text: string) => (said.value = { ...said.value, [key]: text });
        return <One key={key} of={q} value={said.value[key] ?? ""} put={put} />;
      })}
      <p class="tools">
        <button class="main" disabled={missing} onClick={send}>
          Bring it in
        </button>
        <button class="plain" onClick={() => (arriving.value = null)}>
          Leave it
        </button>
      </p>
    </div>
  );
}

export function Arriving() {
  const now = arriving.value;
  if (!now) return null;
  if (now.state === "on its way") return <p role="status">{now.file.name} is on its way …</p>;
  if (now.state === "asks") return <Asks key={now.file.name} file={now.file} questions={now.questions} />;
  return (
    <>
      <p>
        <b>{now.file.name}</b> was not taken in; nothing of it was kept.{" "}
        <button class="plain" onClick={() => (arriving.value = null)}>
          Put away
        </button>
      </p>
      <Said problems={now.problems} error={now.said || null} />
    </>
  );
}
