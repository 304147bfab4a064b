// docs/errors.md, made from the catalogue of problems and the English texts.

import { PROBLEMS, type ProblemArea, type ProblemCode } from '../wax/problem-catalogue.ts';
import { languageFiles } from '../words/load-languages.ts';

const CHAPTERS: Readonly<Record<ProblemArea, readonly [title: string, introduction: string]>> = {
  science: ['Science, probes and heat', 'Refused by a calculation; the answer names the value.'],
  settings: ['Settings', 'A wrong setting ends the start with exit status 2 and one line that names it.'],
  'lab-file': [
    'Lab file',
    `Each line of a refused lab file reads \`file:line:column: field: what is wrong; what was expected\`. All mistakes are
listed at once, and nothing of a refused file is taken.

A lab file is taken by an empty database. Afterwards the database is the truth: a file that did not change does
nothing; one that changed is taken as long as nobody changed the lab on the screens; when both changed, the start
goes on with the lab of the screens and says what differs.`,
  ],
  store: ['Store', 'Of the database of the lab and the store of the readings.'],
  messages: [
    'Messages from gateways',
    `What a gateway sends and cannot be taken lies in quarantine with its topic, reason, time and first kilobyte. Every
message is acknowledged, so that a bad one does not come again for ever.`,
  ],
  'broker-and-journal': ['Broker and journal', 'At the start, or while it runs.'],
  web: [
    'HTTP',
    `Every error of the web server is a problem document (RFC 9457, \`application/problem+json\`): \`status\`, \`title\`,
\`detail\` in the reader's language, a stable \`code\` with its \`values\`, and \`errors\` with the fields that were
refused. An act that the alarm's life refuses has the code of that refusal; a refused lab file that of its first
problem.`,
  ],
  fields: [
    'Fields of a request',
    'Under `errors` of `wrong-request`, one for each field, with a JSON pointer to it.',
  ],
  alarms: ['Alarms', 'An act that the state of the alarm does not allow; the alarm stays as it is.'],
  sheets: ['Night and month sheets', 'Reading and signing the sheets.'],
  notices: ['Notices', 'Phones, and the link of a notification.'],
  https: [
    'HTTPS',
    `The start is refused with one line and exit status 2; while it runs, the certificate in use stays and the next look
tries again.`,
  ],
};

/** Names of values in a text as a reader sees them. */
const prose = (text: string): string => text.replaceAll('|', '\\|');

export const errorsPage = (): string => {
  const { errors = {} } = languageFiles('en');
  const row = (code: ProblemCode): string => {
    const { status } = PROBLEMS[code];
    const cells = [
      `\`${code}\``,
      status ?? '',
      ...(['title', 'do'] as const).map((part) => prose(errors[`error.${code}.${part}`] ?? '')),
    ];
    return `| ${cells.join(' | ')} |`;
  };
  const chapters = Object.entries(CHAPTERS).map(([area, [title, introduction]]) => {
    const codes = (Object.keys(PROBLEMS) as ProblemCode[]).filter((code) => PROBLEMS[code].area === area);
    return `## ${title}\n\n${introduction}\n\n| code | status | what it means | what to do |\n|---|---|---|---|\n${codes.map(row).join('\n')}\n`;
  });
  return `# Problems by their code

Every refusal that a person or a program can meet has a code. It says what is wrong and what to do; nothing that
was refused is lost. \`status\` is that of the web answer.

This page is made from \`wax/problem-catalogue.ts\` and \`words/en/errors.json\` (\`npm run make:errors\`); a test fails
when it is stale.

${chapters.join('\n')}`;
};
