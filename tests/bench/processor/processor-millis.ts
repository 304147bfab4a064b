// How long processors worked for a process, which other programs on the same machine change little; the clock on the
// wall they change by factors.

import { readFileSync } from 'node:fs';

/** `USER_HZ` of Linux on every usual machine. */
const TICKS_A_SECOND = 100;

/** Of all threads of this process, in milliseconds. */
export function ownProcessorMillis(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

/** Of all threads of another process, in milliseconds, in steps of 10; Linux only (proc(5), `stat`). */
export function processorMillisOf(processId: number): number {
  const text = readFileSync(`/proc/${processId}/stat`, 'utf8');
  // The name of the program is in parentheses and may hold spaces; utime and stime are fields 14 and 15.
  const fields = text.slice(text.lastIndexOf(')') + 2).split(' ');
  return ((Number(fields[11]) + Number(fields[12])) / TICKS_A_SECOND) * 1000;
}
