import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { snapshots } from './snapshots.ts';

type Values = Readonly<Record<string, number>>;
interface Change {
  readonly name: string;
  readonly value: number;
}

/** A server that counts, a line that brings changes at once, and answers that arrive when the test lets them. */
const bench = () => {
  let server: Values = {};
  let screen: Values = {};
  const held: (() => void)[] = [];
  const apply = ({ name, value }: Change): void => {
    screen = { ...screen, [name]: value };
  };
  const { load, received } = snapshots<Values, Change>(
    () => {
      const then = server;
      return new Promise((resolve) => held.push(() => resolve(then)));
    },
    (whole) => {
      screen = whole;
    },
    apply,
  );
  return {
    load,
    change: (name: string) => {
      const value = (server[name] ?? 0) + 1;
      server = { ...server, [name]: value };
      apply({ name, value });
      received({ name, value });
    },
    answer: (which: number) => held.splice(which % Math.max(1, held.length), 1)[0]?.(),
    waiting: () => held.length,
    server: () => server,
    screen: () => screen,
  };
};

const settled = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

describe('a snapshot that is loaded beside the live line', () => {
  it('keeps an alarm that arrived while an older answer was under way', async () => {
    const { load, change, answer, screen } = bench();
    const loading = load();
    change('alarm');
    answer(0);
    await loading;
    expect(screen()).toEqual({ alarm: 1 });
  });

  it('drops an answer that a later one has overtaken', async () => {
    const { load, change, answer, screen } = bench();
    const first = load();
    change('alarm');
    const second = load();
    answer(1);
    await second;
    answer(0);
    await first;
    expect(screen()).toEqual({ alarm: 1 });
  });

  it('ends in the state of the server, in whatever order answers and changes come', async () => {
    const step = fc.oneof(
      fc.constant({ does: 'load' } as const),
      fc.record({ does: fc.constant('change' as const), name: fc.constantFrom('a', 'b', 'c') }),
      fc.record({ does: fc.constant('answer' as const), which: fc.nat(5) }),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(step, { maxLength: 30 }), async (steps) => {
        const { load, change, answer, waiting, server, screen } = bench();
        void load();
        for (const { does, ...with_ } of steps) {
          if (does === 'load') void load();
          else if ('name' in with_) change(with_.name);
          else if ('which' in with_) answer(with_.which);
          await settled();
        }
        while (waiting() > 0) {
          answer(0);
          await settled();
        }
        expect(screen()).toEqual(server());
      }),
    );
  });

  it('takes an older answer when the newer one did not come', async () => {
    const answers: (Values | null)[] = [{ alarm: 1 }, null];
    let screen: Values = {};
    const { load } = snapshots<Values, never>(
      async () => answers.pop() ?? null,
      (whole) => {
        screen = whole;
      },
      () => undefined,
    );
    await load();
    expect(screen).toEqual({});
    await load();
    expect(screen).toEqual({ alarm: 1 });
  });
});
