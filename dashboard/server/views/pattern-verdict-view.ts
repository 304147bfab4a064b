// The verdict of a pattern as it crosses the wire, in the words of one reader.

import { dueText, verdictText } from '../../../alerts/notices/texts/verdict-text.ts';
import type { PatternCareValues } from '../../../lab/pattern-care.ts';
import type { PatternVerdict } from '../../../lab/patterns/pattern-verdict.ts';
import type { ErrorBand } from '../../../wax/relaxation/relaxation.ts';
import type { Say } from '../../../words/load-languages.ts';
import type { MessageKey } from '../../../words/message-key.ts';
import { sourceText } from '../../../words/source-text.ts';
import type { PatternVerdictView } from '../../api/patterns.ts';
import { iso, isoOrNull } from '../../../wax/iso.ts';

const band = (error: ErrorBand | null): PatternVerdictView['permanentMicrometres'] =>
  error === null ? null : { likely: error.likely, low: error.low, high: error.high };

const clockText = ({ standingMinutes }: PatternCareValues, say: Say): string =>
  standingMinutes.value === 0
    ? ''
    : say('pattern-note.clock', {
        limit_minutes: standingMinutes.value,
        standing: say(`standing.${standingMinutes.standing}`),
        source: sourceText(
          standingMinutes.source,
          (key, values) => say(key as MessageKey, values),
          (value) => `${value} min`,
        ),
      });

export const patternVerdictView = (
  verdict: PatternVerdict,
  care: PatternCareValues,
  say: Say,
): PatternVerdictView => ({
  at: iso(verdict.at),
  code: verdict.verdict,
  reason: verdict.reason,
  nextStep: verdict.nextStep,
  text: verdictText(say, verdict),
  due: dueText(say, verdict),
  note: say(verdict.isCalibrated ? 'pattern-note.calibrated' : 'pattern-note.generic'),
  clock: clockText(care, say),
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
