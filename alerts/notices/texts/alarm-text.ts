// An alarm in words: message, meaning, action and caution in the reader's language, unit and clock. What is stored is
// the rule and its evidence; sentences are made here, each time they are read.

import type { Lab } from '../../../lab/lab.ts';
import { messageOf, type Say, sayTo } from '../../../words/load-languages.ts';
import type { ReaderSettings, Values } from '../../../words/quantity.ts';
import type { Alarm } from '../../watch/life/alarm.ts';
import { causeText } from './self-cause.ts';
import { dueText, type SayableVerdict, verdictText } from './verdict-text.ts';

export interface AlarmText {
  /** What happened. */
  readonly message: string;
  /** What the heat does to the wax, or what cannot be seen now. */
  readonly meaning: string;
  /** What to do; empty for a notice. */
  readonly action: string;
  /** Empty when the rule needs none. */
  readonly caution: string;
}

/** What a text is made from: an alarm, or the finding of a notice. */
export type AlarmFacts = Pick<
  Alarm,
  'rule' | 'subject' | 'subjectKind' | 'tense' | 'raisedAt' | 'evidence'
> & {
  /** Of what was learned when it was over. */
  readonly clearedAt?: Alarm['clearedAt'];
};

/** @example alarmText(alarm, lab, person).message // 'Dip pot 1 is over its ceiling: it has reached 101.3 °C, ceiling 100.0 °C.' */
export function alarmText(facts: AlarmFacts, lab: Lab, reader: ReaderSettings): AlarmText {
  const say = sayTo(reader, lab.site.timeZone);
  const { detail } = facts.evidence;
  const values: Values = {
    ...facts.evidence,
    ...(typeof detail === 'string' && { detail: causeText(detail, say) }),
    ...patternValues(facts, say),
    place: placeOf(facts, lab),
    station: stationNameOf(facts, lab),
    raised_at: facts.raisedAt,
  };
  const message = say(`rule.${facts.rule}.message`, values);
  const isPast = facts.tense === 'learned';
  return {
    message: isPast ? pastMessage(facts, { ...values, message }, say) : message,
    meaning: say(`rule.${facts.rule}.meaning`, values),
    // After a time without a watch there is much to look at, though it is over.
    action:
      isPast && facts.rule !== 'gateway-lost' ? say('past.action') : say(`rule.${facts.rule}.action`, values),
    caution: say(`rule.${facts.rule}.caution`),
  };
}

/** Rules that have words of their own for what was so and is over. */
const WORDED_AS_PAST = ['fire-risk', 'over-ceiling', 'storage-warm'] as const;

function pastMessage({ rule, raisedAt, clearedAt }: AlarmFacts, values: Values, say: Say): string {
  const own = WORDED_AS_PAST.find((kind) => kind === rule);
  const times = { from_at: raisedAt, to_at: clearedAt ?? raisedAt };
  return say(own === undefined ? 'past.other' : `past.${own}`, { ...values, ...times });
}

/** The verdict and the time of a pattern, worded as everywhere. */
function patternValues({ evidence }: AlarmFacts, say: Say): Values {
  const { verdict, reason, next_step, due_at, due_by } = evidence;
  if (typeof verdict !== 'string') return {};
  const worded = { verdict, reason, nextStep: next_step, values: evidence } as SayableVerdict;
  const dueAt = typeof due_at === 'number' ? due_at : null;
  const dueBy = due_by === 'standing' ? 'standing' : 'tolerance';
  return {
    verdict: verdictText(say, worded),
    due: dueText(say, { dueAt, dueBy, isOverdue: evidence.is_overdue === 1 }),
  };
}

/** Why an alarm is hidden by design (`warm-up`, `behind:gateway-lost`), in words; empty when it is not. */
export function suppressionText(suppressedBy: string | null, language: string): string {
  if (suppressedBy === null) return '';
  const [reason, cause] = suppressedBy.split(':');
  const causeName = cause === undefined ? null : messageOf(language, `rule.${cause}.name`);
  return messageOf(language, `hidden.${reason}`, { cause: causeName ?? '' }) ?? suppressedBy;
}

function placeOf({ subject, subjectKind }: AlarmFacts, lab: Lab): string {
  // People know a pattern by its case.
  if (subjectKind === 'pattern')
    return lab.patterns.find(({ id }) => id === subject)?.caseReference || subject;
  if (subjectKind !== 'station') return subject;
  return lab.stations.find(({ id }) => id === subject)?.name ?? subject;
}

function stationNameOf({ subject, subjectKind, evidence }: AlarmFacts, lab: Lab): string {
  const id =
    subjectKind === 'station'
      ? subject
      : (evidence.station ?? lab.probes.find((probe) => probe.id === subject)?.station ?? null);
  if (id === null) return '–';
  return lab.stations.find((station) => station.id === id)?.name ?? String(id);
}
