// Carries out a verb and returns the exit status; a refusal is one line.

import { databaseRefusal } from '../../lab/database/database.ts';
import { ProblemError } from '../../wax/problem-error.ts';
import { DATABASE_NAME } from '../data/data-copy.ts';
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
    const refusal = error instanceof ProblemError ? error : databaseRefusal(error, DATABASE_NAME);
    if (refusal === null) throw error;
    console.error(`waxwarden: ${problemOnConsole(refusal.problem)}`);
    return 1;
  }
}
