// Why a part of the watch itself fails, as it is stored in a self-check and shown in its alarm: a code with values.

import { messageOf, type Say } from '../../../words/load-languages.ts';
import { type CodedProblem, whatIsWrong } from '../../../words/problem-text.ts';
import type { Values } from '../../../words/quantity.ts';
import { type SendAnswer, ownWords } from '../outbox/send-answer.ts';
import type { ReachCause } from '../outbox/unreached.ts';

export type SelfCause =
  | ReachCause
  | {
      readonly code: 'channel-answered';
      readonly answer: SendAnswer;
      /** Name of the webhook, person, phone or topic; empty where a channel has only one. */
      readonly receiver?: string;
    }
  | { readonly code: 'disk-free'; readonly values: Values }
  /** Of a part such as the store; none where it works. */
  | { readonly code: 'part-problems'; readonly problems: readonly CodedProblem[] };

/** Goes into `detail` of a self-check, and from there into the evidence of its alarm. */
export const encodeCause = (cause: SelfCause): string => JSON.stringify(cause);

const decodeCause = (detail: string): SelfCause | null => {
  try {
    return detail.startsWith('{') ? (JSON.parse(detail) as SelfCause) : null;
  } catch {
    return null;
  }
};

const answerText = ({ code, values }: SendAnswer, say: Say): string => say(`send-answer.${code}`, values);

/** For programs; empty before the first answer. */
export const answerInEnglish = (answer: SendAnswer | null): string =>
  answer === null ? '' : (messageOf('en', `send-answer.${answer.code}`, answer.values) ?? '');

/** In words; what a store or an earlier version wrote in words of its own is shown as it came. */
export function causeText(detail: string, say: Say): string {
  const cause = decodeCause(detail);
  if (cause === null) return answerText(ownWords(detail), say);
  switch (cause.code) {
    case 'channels-failed':
      return cause.channels
        .map(({ channel, answer }) =>
          say('self-cause.channel', {
            channel,
            answer: answer === null ? say('self-cause.not-tried') : answerText(answer, say),
          }),
        )
        .join(' ');
    case 'no-channel':
      return say('self-cause.no-channel', { people: cause.people.join(', ') });
    case 'channel-answered':
      return cause.receiver
        ? say('self-cause.receiver', { receiver: cause.receiver, answer: answerText(cause.answer, say) })
        : answerText(cause.answer, say);
    case 'part-problems':
      return cause.problems.map((problem) => whatIsWrong(say, problem)).join(' ');
    case 'disk-free':
      return say('self-cause.disk-free', cause.values);
    default:
      return say(`self-cause.${cause.code}`);
  }
}
