// Who acknowledged an alarm first, and how long after it was raised. Pure.

import type { AlarmLine } from '../../api/night.ts';

export interface Acknowledgement {
  readonly by: string;
  /** Whole minutes. */
  readonly afterMinutes: number;
}

/** Null while nobody has. */
export const acknowledgementOf = ({
  raisedAt,
  acts,
}: Pick<AlarmLine, 'raisedAt' | 'acts'>): Acknowledgement | null => {
  const act = acts.find(({ kind }) => kind === 'acknowledged');
  if (act === undefined) return null;
  return { by: act.by, afterMinutes: Math.round((Date.parse(act.at) - Date.parse(raisedAt)) / 60_000) };
};
