// `npm run faultbench`: labelled cases through the watch, scored. Figures to standard output, one JSON object a line;
// a page of plots and the details of each case on request.

import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { CaseRefusal, UsageRefusal } from './case-fields.ts';
import { folderSources, seedSources } from './case-sources.ts';
import { detailsOf } from './details.ts';
import { figures } from './figures.ts';
import { judgeAll } from './judge-all.ts';
import { page } from './page.ts';
import { RULE_KINDS, type RuleKind } from './run-case.ts';

const USAGE = `npm run faultbench -- (--seeds A..B | --traces DIR) [options]

  --seeds A..B      cases made by these seeds, one of each fault and of each kind of ordinary week
  --traces DIR      cases laid down as docs/faultbench.md says, at any depth below DIR
  --faults a,b      only these faults; normal for ordinary weeks, a+b for two faults at once (by seed)
  --history HOURS   begins each case so many hours before its first fault: little to learn from
  --without r1,r2   leaves these rules out of the watch
  --page FILE       writes an HTML page with a plot of each miss
  --details FILE    writes each fault and each nuisance as JSON
  --jobs N          cases judged at once, each on a thread of its own; 1 if not said`;

const MOST_JOBS = 64;
const MOST_HISTORY_HOURS = 10_000;

const splitList = (text: string | undefined): readonly string[] =>
  (text ?? '').split(',').filter((part) => part !== '');

function ruleNamed(name: string): RuleKind {
  const kind = RULE_KINDS.find((rule) => rule === name);
  if (kind === undefined)
    throw new UsageRefusal(`--without: there is no rule "${name}"; there are ${RULE_KINDS.join(', ')}.`);
  return kind;
}

function jobsOf(text: string): number {
  const jobs = Number(text);
  if (!Number.isInteger(jobs) || jobs < 1 || jobs > MOST_JOBS)
    throw new UsageRefusal(`--jobs: write a whole number from 1 to ${MOST_JOBS}, not "${text}".`);
  return jobs;
}

function hoursOf(written: string): number {
  const hours = Number(written);
  if (written === '' || !(hours >= 0 && hours <= MOST_HISTORY_HOURS))
    throw new UsageRefusal(`--history: write hours from 0 to ${MOST_HISTORY_HOURS}, not "${written}".`);
  return hours;
}

const text = { type: 'string' } as const;
const options = {
  seeds: text,
  traces: text,
  faults: text,
  history: text,
  without: text,
  page: text,
  details: text,
  jobs: { ...text, default: '1' },
};

function sourcesOf(seeds: string | undefined, traces: string | undefined, faults: readonly string[]) {
  if (seeds !== undefined && traces === undefined) return seedSources(seeds, faults);
  if (traces !== undefined && seeds === undefined) return folderSources(traces);
  throw new UsageRefusal(`Say which cases: --seeds or --traces.\n\n${USAGE}`);
}

async function bench(given: readonly string[]): Promise<void> {
  const { values } = parseArgs({ args: [...given], options });
  const faults = splitList(values.faults);
  const wishes = {
    faults,
    without: splitList(values.without).map(ruleNamed),
    plots: values.page !== undefined,
    historyHours: values.history === undefined ? null : hoursOf(values.history),
  };
  const answers = await judgeAll(sourcesOf(values.seeds, values.traces, faults), wishes, jobsOf(values.jobs));
  for (const answer of answers)
    if (answer.kind === 'refused') console.error(`waxwarden faultbench: left out: ${answer.message}`);
  const judged = answers.filter((answer) => answer.kind === 'judged');
  if (judged.length === 0) throw new UsageRefusal('None of the cases could be judged.');
  const cases = judged.map((answer) => answer.judged);
  const found = figures(cases.map(({ score }) => score));
  for (const figure of found) console.log(JSON.stringify(figure));
  if (values.page !== undefined) {
    const plots = judged.flatMap((answer) => answer.plots);
    writeFileSync(values.page, page(found, plots, cases.length));
  }
  if (values.details !== undefined)
    writeFileSync(values.details, `${JSON.stringify(cases.map(detailsOf), null, 1)}\n`);
}

/** Returns the exit code. */
export async function run(given: readonly string[]): Promise<number> {
  try {
    await bench(given);
    return 0;
  } catch (error) {
    const isUsage =
      error instanceof TypeError && 'code' in error && String(error.code).startsWith('ERR_PARSE');
    if (!isUsage && !(error instanceof UsageRefusal) && !(error instanceof CaseRefusal)) throw error;
    console.error(`waxwarden faultbench: ${error.message}`);
    return 2;
  }
}
