// What every verb of the command line has in common: its arguments, its answer, its refusals.

import { parseArgs } from 'node:util';
import { reasonOf } from '../../wax/problem-error.ts';
import { type EpochMillis, epochMillis } from '../../wax/units.ts';

/** Returns the exit status: 0 done, 1 something was found or failed, 2 it was called wrongly. */
export interface Verb {
  /** What follows the verb, as the help shows it. */
  readonly shape: string;
  readonly help: string;
  /** `usualData` is the data folder when the arguments name none. */
  readonly run: (args: readonly string[], usualData: string) => number | Promise<number>;
}

/** The verb was called wrongly; the message shows its usage. */
export class VerbRefusal extends Error {}

export interface VerbArguments {
  readonly positionals: readonly string[];
  readonly value: (name: string) => string | null;
  /** The data folder. */
  readonly data: string;
}

/** Options are names of settings of the verb that take a value; `--data` is always one. */
export function verbArguments(
  args: readonly string[],
  usualData: string,
  names: readonly string[] = [],
): VerbArguments {
  try {
    const { positionals, values } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: Object.fromEntries([...names, 'data'].map((name) => [name, { type: 'string' as const }])),
    });
    const value = (name: string): string | null => {
      const text = values[name];
      return typeof text === 'string' ? text : null;
    };
    return { positionals, value, data: value('data') ?? usualData };
  } catch (error) {
    throw new VerbRefusal(reasonOf(error));
  }
}

/** The instant that an option names; null when it was not given. */
export function instantOption(name: string, text: string | null): EpochMillis | null {
  if (text === null) return null;
  const at = Date.parse(text);
  if (Number.isNaN(at))
    throw new VerbRefusal(`--${name}: ${text} is not an instant such as 2031-05-04T00:00:00Z`);
  return epochMillis(at);
}

/** One of the values that the option may have; the first of them when it was not given. */
export function choiceOption<T extends string>(
  name: string,
  text: string | null,
  all: readonly [T, ...T[]],
): T {
  const chosen = all.find((each) => each === (text ?? all[0]));
  if (chosen === undefined) throw new VerbRefusal(`--${name}: ${text} is none of ${all.join(', ')}`);
  return chosen;
}
