// What must be seen to in the morning, worst first: heat that may still be on, then patterns, places, alarms that
// nobody has answered, probes. A pattern that may be invested is among it when that is overdue. Pure.

import type { AlarmLine, NightSheet } from '../../api/night.ts';
import { firstNamed, nameOfLine, namesOf } from './named-patterns.ts';
import { reasonTexts, type SheetWords } from './sheet-words.ts';

interface SubjectAlarm extends AlarmLine {
  readonly subject: string;
}
interface Lines extends Pick<NightSheet, 'patterns' | 'places' | 'heaters' | 'probes'> {
  readonly alarms: readonly SubjectAlarm[];
}

export const seeTo = (
  { patterns, places, heaters, probes, alarms }: Lines,
  { text, word }: SheetWords,
): NightSheet['seeTo'] => {
  const waiting = patterns.filter(({ fate }) => fate === null);
  const ofVerdict = (verdict: 'remake' | 'check') => {
    const { named, further } = firstNamed(waiting.filter((pattern) => pattern.verdict === verdict));
    const texts = named.map((pattern) =>
      text('see-pattern', { pattern: nameOfLine(pattern), reason: pattern.reasons[0]?.text ?? '' }),
    );
    const rest =
      further === 0 ? [] : [text('see-further', { count: further, verdict: word('verdict', verdict) })];
    return [...texts, ...rest].map((line) => ({ what: verdict, text: line }));
  };
  const overdue = waiting.filter(({ verdict, isOverdue }) => verdict === 'may-be-invested' && isOverdue);
  const listed = new Set(
    waiting
      .filter(({ verdict, isOverdue }) => verdict !== 'may-be-invested' || isOverdue)
      .map(({ id }) => id),
  );
  /** The line of the heater or of the pattern has it already. */
  const isListed = ({ rule, subject }: SubjectAlarm): boolean =>
    rule === 'left-on' || (rule === 'pattern-due' && listed.has(subject));
  return [
    ...heaters
      .filter(({ reasons }) => reasons.length > 0)
      .map(({ name, leftOn, reasons }) => ({
        what: 'heater',
        text: text(leftOn ? 'see-heater' : 'see-place', { place: name, reason: reasonTexts(reasons) }),
      })),
    ...ofVerdict('remake'),
    ...ofVerdict('check'),
    ...(overdue.length === 0
      ? []
      : [
          {
            what: 'overdue',
            text: text('see-overdue', { patterns: namesOf(overdue, (count) => text('further', { count })) }),
          },
        ]),
    ...places
      .filter(({ verdict }) => verdict !== 'may-be-invested')
      .map(({ name, reasons }) => ({
        what: 'place',
        text: text('see-place', { place: name, reason: reasonTexts(reasons) }),
      })),
    ...alarms
      .filter((alarm) => !alarm.acknowledged && alarm.priority !== 'notice' && !isListed(alarm))
      .map(({ message }) => ({ what: 'alarm', text: text('see-alarm', { message }) })),
    ...probes.map(({ probe, reasons }) => ({
      what: 'probe',
      // An alarm of a probe names it already.
      text: reasons.every(({ code }) => code === 'probe-alarm')
        ? reasonTexts(reasons)
        : text('see-probe', { probe, reason: reasonTexts(reasons) }),
    })),
  ];
};
