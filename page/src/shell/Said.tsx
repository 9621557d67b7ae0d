// SPDX-License-Identifier: Apache-2.0

/** Text of the job's own descriptions: what stands in `backticks` is typed so. */
export function Said({ text }: { text: string }) {
  const parts = text.split("`");
  return <>{parts.map((part, at) => (at % 2 ? <code key={at}>{part}</code> : part))}</>;
}
