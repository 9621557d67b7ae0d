// SPDX-License-Identifier: Apache-2.0
// What may be wider than its place, such as a table: it scrolls, by keyboard too where it has to.

import { useSignal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";

export function Wide({ of, children }: { of: string; children: ComponentChildren }) {
  const place = useRef<HTMLDivElement>(null);
  const over = useSignal(false);
  useEffect(() => {
    const element = place.current;
    if (!element) return;
    const look = () => (over.value = element.scrollWidth > element.clientWidth + 1);
    const sized = new ResizeObserver(look);
    sized.observe(element);
    if (element.firstElementChild) sized.observe(element.firstElementChild);
    return () => sized.disconnect();
  }, []);
  const keys = over.value ? { tabIndex: 0, role: "region" as const, "aria-label": of } : {};
  return (
    <div class="scroll" ref={place} {...keys}>
      {children}
    </div>
  );
}
