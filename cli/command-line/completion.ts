// Completion of commands and settings for a shell, made from the tables that the program itself reads.

import { LANGUAGE_CODES } from '../../words/load-languages.ts';
import { failure, type Result, success } from '../../wax/result.ts';
import { COMMANDS } from './commands.ts';
import { SETTING_ROWS } from '../settings/setting-rows.ts';

const SHELLS = ['bash', 'zsh', 'fish'] as const;
type Shell = (typeof SHELLS)[number];

/** Values that a setting may have, and whether it names files. */
const VALUES: Readonly<Partial<Record<keyof typeof SETTING_ROWS, readonly string[]>>> = {
  log: ['silent', 'warn', 'info', 'debug'],
  'log-format': ['text', 'json'],
  store: ['embedded', 'influx:'],
  'demo-language': LANGUAGE_CODES,
};
const isSwitch = (shape: string): boolean => shape === '';
const namesFile = (shape: string): boolean => shape.startsWith('FILE') || shape === 'DIR';

const settings = Object.entries(SETTING_ROWS);
const commands = Object.entries(COMMANDS);
const SWITCHES = ['new-manager-code', 'help', 'version'];

const bash = (): string => {
  const options = [...settings.map(([name]) => `--${name}`), ...SWITCHES.map((name) => `--${name}`)];
  const values = Object.entries(VALUES).map(
    ([name, words]) => `    --${name}) COMPREPLY=($(compgen -W '${words?.join(' ')}' -- "$word")); return ;;`,
  );
  const files = settings.filter(([, { shape }]) => namesFile(shape)).map(([name]) => `--${name}`);
  const others = settings
    .filter(([name, { shape }]) => !isSwitch(shape) && !namesFile(shape) && !(name in VALUES))
    .map(([name]) => `--${name}`);
  return [
    '_waxwarden() {',
    // biome-ignore lint/suspicious/noTemplateCurlyInString: the shell's own
    '  local word="${COMP_WORDS[COMP_CWORD]}" before="${COMP_WORDS[COMP_CWORD-1]}"',
    '  case "$before" in',
    ...values,
    `    ${files.join('|')}) COMPREPLY=($(compgen -f -- "$word")); return ;;`,
    `    ${others.join('|')}) COMPREPLY=(); return ;;`,
    `    completion) COMPREPLY=($(compgen -W '${SHELLS.join(' ')}' -- "$word")); return ;;`,
    '  esac',
    '  if [ "$COMP_CWORD" -eq 1 ]; then',
    `    COMPREPLY=($(compgen -W '${[...Object.keys(COMMANDS), ...options].join(' ')}' -- "$word"))`,
    '  else',
    `    COMPREPLY=($(compgen -W '${options.join(' ')}' -- "$word"))`,
    '  fi',
    '}',
    'complete -F _waxwarden waxwarden',
  ].join('\n');
};

const zsh = (): string => ['autoload -U +X bashcompinit && bashcompinit', bash()].join('\n');

const quote = (text: string): string => `'${text.replaceAll("'", "\\'")}'`;
const fish = (): string =>
  [
    'complete -c waxwarden -f',
    ...commands.map(
      ([name, help]) => `complete -c waxwarden -n __fish_use_subcommand -a ${name} -d ${quote(help)}`,
    ),
    `complete -c waxwarden -n '__fish_seen_subcommand_from completion' -a '${SHELLS.join(' ')}'`,
    ...settings.map(([name, { shape, help }]) => {
      const values = VALUES[name as keyof typeof SETTING_ROWS];
      const wants = isSwitch(shape) ? '' : namesFile(shape) ? ' -r -F' : ' -x';
      const offered = values === undefined ? '' : ` -a '${values.join(' ')}'`;
      return `complete -c waxwarden -l ${name}${wants}${offered} -d ${quote(help)}`;
    }),
  ].join('\n');

const SCRIPTS: Readonly<Record<Shell, () => string>> = { bash, zsh, fish };
const isShell = (text: string): text is Shell => (SHELLS as readonly string[]).includes(text);

/** The script that the shell reads, for example with `source <(waxwarden completion bash)`. */
export const completionScript = (args: readonly string[]): Result<string> => {
  const [shell = ''] = args;
  return isShell(shell)
    ? success(SCRIPTS[shell]())
    : failure('unknown-shell', { shell, shells: SHELLS.join(', ') }, shell);
};
