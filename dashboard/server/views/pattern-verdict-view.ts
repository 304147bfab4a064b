// The verdict of a pattern as it crosses the wire, in the words of one reader.

import { dueText, verdictText } from '../../../alerts/notices/texts/verdict-text.ts';
import type { PatternVerdict } from '../../../lab/pattern-verdict.ts';
import type { ErrorBand } from '../../../wax/relaxation.ts';
import type { Say } from '../../../words/load-languages.ts';
import type { PatternVerdictView } from '../../api/patterns.ts';
import { iso, isoOrNull } from '../base/instant.ts';

const band = (error: ErrorBand | null): PatternVerdictView['permanentMicrometres'] =>
  error === null ? null : { likely: error.likely, low: error.low, high: error.high };

export const patternVerdictView = (verdict: PatternVerdict, say: Say): PatternVerdictView => ({
  at: iso(verdict.at),
  code: verdict.verdict,
  reason: verdict.reason,
  nextStep: verdict.nextStep,
  text: verdictText(say, verdict),
  due: dueText(say, verdict),
  note: say(verdict.isCalibrated ? 'pattern-note.calibrated' : 'pattern-note.generic'),
  whereabouts: verdict.whereabouts,
  permanentMicrometres: band(verdict.permanent),
  contractionMicrometres: band(verdict.contraction),
  reversibleMicrometres: band(verdict.reversible),
  celsius: verdict.celsius,
  fittedCelsius: verdict.fittedCelsius,
  dueBy: verdict.dueBy,
  isOverdue: verdict.isOverdue,
  standingDueAt: isoOrNull(verdict.standingDueAt),
  isCalibrated: verdict.isCalibrated,
  measuredGapMicrometres: verdict.measuredGap,
});
