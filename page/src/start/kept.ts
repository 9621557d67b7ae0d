// SPDX-License-Identifier: Apache-2.0
// Small habits of this browser: never anything of a job.

export function kept(name: string): string {
  try {
    return localStorage.getItem(`sumpwright.${name}`) ?? "";
  } catch {
    return ""; // a browser that keeps nothing
  }
}

export function keep(name: string, text: string): void {
  try {
    localStorage.setItem(`sumpwright.${name}`, text);
  } catch {
    // lasts as long as the window
  }
}
