// SPDX-License-Identifier: Apache-2.0
// Play, the slider through time, and how fast. It stays in sight while the charts are looked at.

import { useComputed } from "@preact/signals";
import { SPEEDS, type Player } from "./player";

interface PlayBarProps {
  player: Player;
  spells: readonly (readonly [number, number])[];
}

export function PlayBar({ player, spells }: PlayBarProps) {
  const { link, end } = player;
  const now = useComputed(() => player.now);
  const said = useComputed(() => `${now.value.toFixed(2)} s`);
  const going = player.playing.value;
  return (
    <div class="play-bar on-screen" role="group" aria-label="Playing">
      <button type="button" class="main play-key" onClick={() => player.toggle()}>
        <svg viewBox="0 0 20 20" aria-hidden="true">
          {going ? <path d="M4 3h4v14h-4zM12 3h4v14h-4z" /> : <path d="M5 2l13 8l-13 8z" />}
        </svg>
        {going ? "Pause" : "Play"}
      </button>
      <div class="play-way">
        <input
          type="range"
          min={0}
          max={end}
          step={0.01}
          value={now}
          aria-label="Time"
          aria-valuetext={said}
          onInput={(event) => {
            player.pause();
            player.go(Number(event.currentTarget.value));
          }}
        />
        <svg class="play-air" viewBox="0 0 1000 10" preserveAspectRatio="none" aria-hidden="true">
          {spells.map(([from, to]) => (
            <rect x={(1000 * from) / end} width={Math.max((1000 * (to - from)) / end, 4)} height="10" key={from} />
          ))}
        </svg>
      </div>
      <output class="play-time">{said}</output>
      <label class="play-speed">
        <span class="unseen">Speed</span>
        <select
          value={String(player.speed.value)}
          onChange={(event) => (player.speed.value = Number(event.currentTarget.value))}
        >
          {SPEEDS.map((speed) => (
            <option value={String(speed)} key={speed}>
              {speed === 1 ? "real time" : speed < 1 ? `1/${Math.round(1 / speed)} speed` : `${speed} × speed`}
            </option>
          ))}
        </select>
      </label>
      <span class="unseen">{link.window.value === null ? "" : "zoomed in"}</span>
    </div>
  );
}
