// `npm run faultbench`: labelled cases through the watch, scored. Figures to standard output, one JSON object a line;
// a page of plots and the details of each case on request.

import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import type { LabelledCase } from '../../simulators/cases/case.ts';
import { CaseRefusal } from './case-fields.ts';
import { detailsOf } from './details.ts';
import { figures } from './figures.ts';
import { type JudgedCase, judgeCase } from './judge-case.ts';
import { missPlots } from './miss-plot.ts';
import { page } from './page.ts';
import { caseFolders, readCase } from './read-case.ts';
import { RULE_KINDS, type RuleKind } from './run-case.ts';

const USAGE = `npm run faultbench -- --traces DIR [options]

  --traces DIR      cases laid down as docs/faultbench.md says, at any depth below DIR
  --faults a,b      only cases with one of these faults; normal for cases without any
  --without r1,r2   leaves these rules out of the watch
  --page FILE       writes an HTML page with a plot of each miss
  --details FILE    writes each fault and each nuisance as JSON`;

class UsageRefusal extends Error {}

const listed = (text: string | undefined): readonly string[] =>
  (text ?? '').split(',').filter((part) => part !== '');

function ruleNamed(name: string): RuleKind {
  const known = RULE_KINDS.find((rule) => rule === name);
  if (known === undefined)
    throw new UsageRefusal(`--without: there is no rule "${name}"; there are ${RULE_KINDS.join(', ')}.`);
  return known;
}

const isWanted = ({ truth }: LabelledCase, faults: readonly string[]): boolean =>
  faults.length === 0 ||
  (truth.length === 0 && faults.includes('normal')) ||
  truth.some(({ fault }) => faults.includes(fault));

async function bench(given: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...given],
    options: {
      traces: { type: 'string' },
      faults: { type: 'string' },
      without: { type: 'string' },
      page: { type: 'string' },
      details: { type: 'string' },
    },
  });
  if (values.traces === undefined) throw new UsageRefusal(`Say which cases: --traces DIR.\n\n${USAGE}`);
  const without = listed(values.without).map(ruleNamed);
  const faults = listed(values.faults);
  const all: JudgedCase[] = [];
  const plots: string[] = [];
  for (const folder of caseFolders(values.traces)) {
    const labelled = readCase(folder);
    if (!isWanted(labelled, faults)) continue;
    const judged = await judgeCase(labelled, { without });
    all.push(judged);
    if (values.page !== undefined) plots.push(...missPlots(labelled, judged));
  }
  if (all.length === 0) throw new UsageRefusal(`No case was found below ${values.traces}.`);
  const found = figures(all.map(({ score }) => score));
  for (const figure of found) console.log(JSON.stringify(figure));
  if (values.page !== undefined) writeFileSync(values.page, page(found, plots, all.length));
  if (values.details !== undefined)
    writeFileSync(values.details, `${JSON.stringify(all.map(detailsOf), null, 1)}\n`);
}

/** Answers the exit code. */
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
