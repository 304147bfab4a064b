import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { newestAnswer } from './newest-answer.ts';

/** Questions whose answers the test gives, in any order. */
const bench = () => {
  const questions = newestAnswer();
  const shown: number[] = [];
  const answers: (() => void)[] = [];
  const signals: AbortSignal[] = [];
  return {
    shown,
    signals,
    drop: questions.drop,
    ask: () => {
      const number = answers.length;
      void questions.ask(
        (signal) => {
          signals.push(signal);
          return new Promise<number>((resolve) => answers.push(() => resolve(number)));
        },
        (answer) => shown.push(answer),
      );
    },
    answer: async (number: number) => {
      answers[number]?.();
      await new Promise((resolve) => setImmediate(resolve));
    },
  };
};

describe('newestAnswer', () => {
  it('hands on the answer to a question that nothing overtook', async () => {
    const { ask, answer, shown } = bench();
    ask();
    await answer(0);
    ask();
    await answer(1);
    expect(shown).toEqual([0, 1]);
  });

  it('drops the answer to an older question that arrives last', async () => {
    const { ask, answer, shown, signals } = bench();
    ask();
    ask();
    await answer(1);
    await answer(0);
    expect(shown).toEqual([1]);
    expect(signals[0]?.aborted).toBe(true);
  });

  it('drops an answer that arrives after the screen was left', async () => {
    const { ask, answer, drop, shown, signals } = bench();
    ask();
    drop();
    await answer(0);
    expect(shown).toEqual([]);
    expect(signals[0]?.aborted).toBe(true);
  });

  it('never shows an older answer after a newer question, whatever the order of answers', async () => {
    const step = fc.oneof(
      fc.constant({ does: 'ask' } as const),
      fc.constant({ does: 'drop' } as const),
      fc.record({ does: fc.constant('answer' as const), number: fc.nat(10) }),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(step, { maxLength: 30 }), async (steps) => {
        const { ask, answer, drop, shown } = bench();
        let asked = -1;
        let wanted: number | null = null;
        for (const each of steps) {
          const before = shown.length;
          if (each.does === 'ask') {
            ask();
            asked += 1;
            wanted = asked;
          } else if (each.does === 'drop') {
            drop();
            wanted = null;
          } else {
            await answer(each.number);
            expect(shown.slice(before)).toEqual(each.number === wanted ? [wanted] : []);
            if (each.number === wanted) wanted = null;
          }
        }
      }),
    );
  });
});
