// Carries out a verb and answers the exit status; a refusal is one line.

import { ProblemError } from '../wax/problem-error.ts';
import { problemOnConsole } from './console-words.ts';
import { SETTING_ROWS } from './settings.ts';
import { VERBS } from './verbs/all-verbs.ts';
import { VerbRefusal } from './verbs/verb.ts';

/** Null where the first argument is no verb. */
export async function runVerb([name = '', ...args]: readonly string[]): Promise<number | null> {
  const verb = Object.hasOwn(VERBS, name) ? VERBS[name] : undefined;
  if (verb === undefined) return null;
  try {
    const { env, fallback } = SETTING_ROWS.data;
    return await verb.run(args, process.env[env] ?? fallback);
  } catch (error) {
    if (error instanceof VerbRefusal) {
      console.error(`waxwarden: ${error.message}. Call: ${name} ${verb.shape}`);
      return 2;
    }
    if (!(error instanceof ProblemError)) throw error;
    console.error(`waxwarden: ${problemOnConsole(error.problem)}`);
    return 1;
  }
}
