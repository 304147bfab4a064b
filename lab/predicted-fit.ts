// What was predicted of a pattern when its fit was measured or it was invested, with what it had gone through. Written
// down then, because a later calibration changes the figures. Plain JSON.

export interface PredictedFit {
  readonly at: string;
  /** What counted against the tolerance: permanent error and contraction. */
  readonly likely_micrometres: number;
  readonly low_micrometres: number;
  readonly high_micrometres: number;
  /** Released strain alone, which is proportional to the strain frozen in; without a misfit that was measured before. */
  readonly permanent_micrometres: number;
  /** As a fraction; by which it was figured. */
  readonly frozen_strain: number;
  readonly stored_hours: number;
  /** On its die. */
  readonly held_hours: number;
  readonly mean_kinetic_celsius: number | null;
  readonly too_warm_minutes: number;
  readonly swings: number;
}
