// One case from its source to its score, with what the page and the details need of it; then the case itself is let go.

import { CaseRefusal } from './case-fields.ts';
import { type CaseSource, hasOneOf, loadCase } from './case-sources.ts';
import { type JudgedCase, judgeCase } from './judge-case.ts';
import { missPlots } from './miss-plot.ts';
import type { RuleKind } from './run-case.ts';
import { withShortHistory } from './short-history.ts';

export interface Wishes {
  readonly faults: readonly string[];
  readonly without: readonly RuleKind[];
  readonly plots: boolean;
  /** Hours before the first fault that a case begins; null for all of it. */
  readonly historyHours: number | null;
}

export type Judged =
  | { readonly kind: 'judged'; readonly judged: JudgedCase; readonly plots: readonly string[] }
  | { readonly kind: 'unwanted' }
  /** The seed made no such case, or the files are not one. */
  | { readonly kind: 'refused'; readonly message: string };

export async function judgeSource(
  source: CaseSource,
  { faults, historyHours, without, plots }: Wishes,
): Promise<Judged> {
  let labelled: ReturnType<typeof loadCase>;
  try {
    labelled = loadCase(source);
    if (historyHours !== null) labelled = withShortHistory(labelled, historyHours);
  } catch (error) {
    if (!(error instanceof CaseRefusal) && !(error instanceof RangeError)) throw error;
    return { kind: 'refused', message: error.message };
  }
  if (source.kind === 'folder' && !hasOneOf(labelled, faults)) return { kind: 'unwanted' };
  const judged = await judgeCase(labelled, { without });
  return { kind: 'judged', judged, plots: plots ? missPlots(labelled, judged) : [] };
}
