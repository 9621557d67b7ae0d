// SPDX-License-Identifier: Apache-2.0

/** Scroll `box` so far that `part` is in sight. `scrollIntoView` would move where Tab goes on from. */
export function bringInSight(box: Element | null | undefined, part: Element | null | undefined): void {
  if (!box || !part) return;
  const [around, inner] = [box.getBoundingClientRect(), part.getBoundingClientRect()];
  if (inner.top < around.top) box.scrollTop += inner.top - around.top;
  else if (inner.bottom > around.bottom) box.scrollTop += inner.bottom - around.bottom;
  if (inner.left < around.left) box.scrollLeft += inner.left - around.left;
  else if (inner.right > around.right) box.scrollLeft += inner.right - around.right;
}
