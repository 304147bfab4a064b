// The commands of `waxwarden`: what comes first on the line and is no setting. Without one it starts your lab.

import { failure, type Result, success } from '../../wax/result.ts';
import { VERBS } from '../verbs/all-verbs.ts';

export const COMMANDS = {
  start: 'your lab; what is done without a command',
  demo: 'a simulated lab, to look around',
  backup: VERBS.backup.help,
  restore: VERBS.restore.help,
  verify: VERBS.verify.help,
  'set-aside': VERBS['set-aside'].help,
  export: VERBS.export.help,
  import: VERBS.import.help,
  replay: VERBS.replay.help,
  faultbench: 'judges the watch by labelled traces, from a clone (docs/faultbench.md)',
  gateway: 'publishes probes of this machine, as a FILE says; pair ADDRESS CODE FILE first (docs/gateway.md)',
  group: 'takes what the labs of a group report, into PostgreSQL (docs/group.md)',
  completion: 'prints completion for a shell: bash, zsh or fish',
  version: 'prints the version',
  help: 'prints this',
} as const satisfies Record<string, string>;
export type Command = keyof typeof COMMANDS;

export interface CommandLine {
  readonly command: Command;
  /** What comes after it. */
  readonly args: readonly string[];
}

const isCommand = (text: string): text is Command => Object.hasOwn(COMMANDS, text);

export function commandLine(args: readonly string[]): Result<CommandLine> {
  const [first = '', ...rest] = args;
  if (args.includes('--help') || args.includes('-h')) return success({ command: 'help', args: [] });
  if (first === '--version') return success({ command: 'version', args: [] });
  if (first === '' || first.startsWith('-')) return success({ command: 'start', args });
  if (isCommand(first)) return success({ command: first, args: rest });
  return failure('unknown-command', { command: first, commands: Object.keys(COMMANDS).join(', ') }, first);
}
