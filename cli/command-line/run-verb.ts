// Carries out a verb and answers the exit status; a refusal is one line.

import { ProblemError } from '../../wax/problem-error.ts';
import { labFileProblemLines } from '../data/create-lab.ts';
import { problemOnConsole } from '../console/console-words.ts';
import { SETTING_ROWS } from '../settings/setting-rows.ts';
import { VERBS, type VerbName } from '../verbs/all-verbs.ts';
import { LabFileRefusal } from '../data/lab-of-file.ts';
import { type Verb, VerbRefusal } from '../verbs/verb.ts';

export async function runVerb(name: VerbName, args: readonly string[]): Promise<number> {
  const verb: Verb = VERBS[name];
  try {
    const { env, fallback } = SETTING_ROWS.data;
    return await verb.run(args, process.env[env] ?? fallback);
  } catch (error) {
    if (error instanceof VerbRefusal) {
      console.error(`waxwarden: ${error.message}. Call: ${name} ${verb.shape}`);
      return 2;
    }
    if (error instanceof LabFileRefusal) {
      for (const line of labFileProblemLines(error)) console.error(line);
      return 2;
    }
    if (!(error instanceof ProblemError)) throw error;
    console.error(`waxwarden: ${problemOnConsole(error.problem)}`);
    return 1;
  }
}
