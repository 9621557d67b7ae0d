// SPDX-License-Identifier: Apache-2.0
// What `read` answers, as studies/read_result.py has it; SI, accelerations in g, engine in rpm.

export type Series = number[];
export type Gaps = (number | null)[];

export interface ChannelUse {
  role: string;
  column: string;
  unit: string;
  how: string;
  rate_hz: number;
  samples: number;
  low: number;
  high: number;
}

export interface HealthNote {
  channel: string;
  kind: string;
  text: string;
  start_s: number | null;
  end_s: number | null;
  matters: boolean;
}

export interface LogEvent {
  start_s: number;
  end_s: number;
  kind: string;
  turn: string;
  depth: number;
  least_pa: number;
  expected_pa: number;
  rpm: number;
  ax_g: number | null;
  ay_g: number | null;
  temperature_k: number | null;
  stage: string;
  cause: string;
  severity: number;
  predicted: boolean | null;
}

export interface LogSide {
  turn: string;
  time_s: number;
  over_g: number | null;
  dips: number;
  dip_s: number;
  per_minute: number;
  low_per_minute: number;
  high_per_minute: number;
}

export interface LogStage {
  name: string;
  start_s: number;
  end_s: number;
  turn: string;
  ay_g: number | null;
  rpm: number | null;
  dips: number;
}

export interface Track {
  time_s: Series;
  pressure_pa: Gaps;
  expected_pa: Gaps;
  band_pa: Gaps;
  rpm: Gaps;
  ax_g: Gaps;
  ay_g: Gaps;
  temperature_k: Gaps;
}

export interface Foretold {
  time_s: Series;
  cover_m: Gaps;
  air_fraction: Gaps;
  inlet_pa: Gaps;
  hits: number;
  misses: number;
  false_alarms: number;
}

export interface Fitted {
  name: string;
  before: number;
  after: number;
  low: number;
  high: number;
  known: string;
}

export interface Finding {
  code: string;
  place: string;
  found: string;
  repair: string;
  severity: string;
}

export interface ReadAnswer {
  files: [name: string, sha256: string][];
  revision: string;
  part_hash: string;
  channels: ChannelUse[];
  unused: string[];
  health: HealthNote[];
  events: LogEvent[];
  stages: LogStage[];
  summary: {
    verdict: string;
    standing: "met" | "not met" | "not proven" | "not judged";
    /** The verdict, or without a dip how far that proves */
    headline: string;
    confidence: string;
    duration_s: number;
    judged_s: number;
    sides: LogSide[];
    dips: number;
    worst: number | null;
  };
  track: Track;
  prediction: {
    original: Foretold;
    fitted: Foretold | null;
    parameters: Fitted[];
    text: string;
  } | null;
  assumptions: string[];
  findings: Finding[];
  /** Why it is not filed, or not as a proof; empty where nothing is against it */
  filing: string;
}

/** What /api/log/columns says, as studies/log_view.py has it. */
export interface LogColumns {
  name: string;
  layout: string;
  columns: { name: string; unit: string; sample: string[] }[];
  roles: LogRole[];
}

export interface LogRole {
  role: string;
  means: string;
  needed: boolean;
  column: string | null;
  how: string;
  unit: string;
  units: string[];
  /** A column may count the other way: its sign can be turned */
  turns: boolean;
  turned: boolean;
  /** As the job keeps it; this file need not have that column */
  kept_column: string | null;
  kept_unit: string | null;
  /** The job can keep a name for it */
  keeps: boolean;
}
