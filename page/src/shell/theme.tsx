// SPDX-License-Identifier: Apache-2.0
// Light for the bright shop, dark for the dim one, or as the machine is set.

import { effect, signal } from "@preact/signals";

const CHOICES = ["machine", "light", "dark"] as const;
type Theme = (typeof CHOICES)[number];
const WORDS: Record<Theme, string> = { machine: "As set", light: "Light", dark: "Dark" };
const PLACE = "sumpwright.theme";

function kept(): Theme {
  try {
    return CHOICES.find((c) => c === localStorage.getItem(PLACE)) ?? "machine";
  } catch {
    return "machine"; // a browser that keeps nothing
  }
}

export const theme = signal<Theme>(kept());

effect(() => {
  const root = document.documentElement;
  if (theme.value === "machine") delete root.dataset["theme"];
  else root.dataset["theme"] = theme.value;
  try {
    localStorage.setItem(PLACE, theme.value);
  } catch {
    // kept for this window only
  }
});

export function ThemeSwitch() {
  return (
    <fieldset class="theme">
      <legend class="unseen">Light or dark</legend>
      {CHOICES.map((choice) => (
        <label key={choice}>
          <input
            type="radio"
            name="theme"
            checked={theme.value === choice}
            onChange={() => (theme.value = choice)}
          />
          <span>{WORDS[choice]}</span>
        </label>
      ))}
    </fieldset>
  );
}
