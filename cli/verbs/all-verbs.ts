// Every verb of the command line beside starting the program.

import { backup } from './backup.ts';
import { exportReadings } from './export.ts';
import { importReadings } from './import.ts';
import { replay } from './replay.ts';
import { restore } from './restore.ts';
import { setAside } from './set-aside.ts';
import type { Verb } from './verb.ts';
import { verify } from './verify.ts';

export const VERBS = {
  backup,
  restore,
  verify,
  'set-aside': setAside,
  export: exportReadings,
  import: importReadings,
  replay,
} as const satisfies Record<string, Verb>;
export type VerbName = keyof typeof VERBS;
