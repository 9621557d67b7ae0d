// SPDX-License-Identifier: Apache-2.0
// The views that have a name. Angles in degrees: azimuth from the car's front toward its left.

export interface NamedView {
  id: string;
  word: string;
  azimuth: number;
  elevation: number;
}

export const VIEWS: readonly NamedView[] = [
  { id: "quarter", word: "Three-quarter", azimuth: 42, elevation: 30 },
  { id: "front", word: "From the front", azimuth: 0, elevation: 0 },
  { id: "left", word: "From the left", azimuth: 90, elevation: 0 },
  { id: "behind", word: "From behind", azimuth: 180, elevation: 0 },
  { id: "right", word: "From the right", azimuth: 270, elevation: 0 },
  // the nose up, as on the pad
  { id: "above", word: "From above", azimuth: 180, elevation: 90 },
  { id: "below", word: "From below", azimuth: 0, elevation: -90 },
];
