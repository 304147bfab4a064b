// What the process prints is English, in degrees Celsius: the language of its reader is not known.

import { sayTo } from '../../words/load-languages.ts';
import { type CodedProblem, problemText } from '../../words/problem-text.ts';
import { PLAIN_ENGLISH } from '../../words/quantity.ts';

const say = sayTo(PLAIN_ENGLISH, 'UTC');

/** Printed by every start and by the help. */
export const SAFETY_LINE = say('notice.footer');

/** @example problemOnConsole({ code: 'hours-reversed', values: { opens: '12:00', closes: '08:00' } }) */
export const problemOnConsole = (problem: CodedProblem): string => problemText(say, problem);

/** Printed when a power cut or a fault of the disk spoilt a file of secrets. */
export const replacedFile = (file: string, setAside: string | null, whatToDo: string): string => {
  const spoilt = setAside === null ? 'was empty' : `was damaged and is kept as ${setAside}`;
  return `waxwarden: ${file} ${spoilt}; a new one was made. ${whatToDo}`;
};
