// SPDX-License-Identifier: Apache-2.0
// The views that have a name. Angles in degrees: azimuth from the car's front toward its left.

export interface NamedView {
  id: string;
  /** After `See it from` */
  word: string;
  says: string;
  azimuth: number;
  elevation: number;
}

export const VIEWS: readonly NamedView[] = [
  { id: "quarter", word: "corner", says: "From the front left corner", azimuth: 42, elevation: 30 },
  { id: "front", word: "front", says: "From the front", azimuth: 0, elevation: 0 },
  { id: "left", word: "left", says: "From the left", azimuth: 90, elevation: 0 },
  { id: "behind", word: "behind", says: "From behind", azimuth: 180, elevation: 0 },
  { id: "right", word: "right", says: "From the right", azimuth: 270, elevation: 0 },
  // the nose up, as on the pad
  { id: "above", word: "above", says: "From above", azimuth: 180, elevation: 90 },
  { id: "below", word: "below", says: "From below", azimuth: 0, elevation: -90 },
];
