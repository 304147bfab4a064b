// Which cases are judged: folders on disk, or cases made by seed.

import type { LabelledCase } from '../../simulators/cases/case.ts';
import { FAULT_IDS, makeCase, NORMAL_NAMES } from '../../simulators/cases/make-case.ts';
import { UsageRefusal } from './case-fields.ts';
import { caseFolders, readCase } from './read-case.ts';

/** Plain data, so that it can be handed to another thread. */
export type CaseSource =
  | { readonly kind: 'folder'; readonly folder: string }
  | { readonly kind: 'seed'; readonly name: string; readonly seed: number };

const NORMAL = 'normal';
const NORMALS = NORMAL_NAMES.map((kind) => `${NORMAL}-${kind}`);
const SINGLE: readonly string[] = [...FAULT_IDS, ...NORMALS];

/** Names as `makeCase` takes them: a fault, two joined by `+`, a kind of ordinary week; `normal` is all of these. */
function namesOf(faults: readonly string[]): readonly string[] {
  if (faults.length === 0) return SINGLE;
  const names = faults.flatMap((fault) => (fault === NORMAL ? NORMALS : [fault]));
  const unknown = names.flatMap((name) => name.split('+')).find((part) => !SINGLE.includes(part));
  if (unknown !== undefined)
    throw new UsageRefusal(
      `--faults: there is no "${unknown}"; there are ${[...SINGLE, NORMAL].join(', ')}.`,
    );
  return names;
}

/** @param range `A..B` or one number, both ends included */
export function seedSources(range: string, faults: readonly string[]): readonly CaseSource[] {
  const [, first, last = first] = /^(\d+)(?:\.\.(\d+))?$/.exec(range) ?? [];
  const [from, to] = [Number(first), Number(last)];
  if (!(from <= to)) throw new UsageRefusal(`--seeds: write A..B with A not above B, not "${range}".`);
  const names = namesOf(faults);
  return Array.from({ length: to - from + 1 }, (_, index) => from + index).flatMap((seed) =>
    names.map((name): CaseSource => ({ kind: 'seed', name, seed })),
  );
}

export function folderSources(folder: string): readonly CaseSource[] {
  const folders = caseFolders(folder);
  if (folders.length === 0) throw new UsageRefusal(`--traces: no case was found below ${folder}.`);
  return folders.map((path) => ({ kind: 'folder', folder: path }));
}

export const loadCase = (source: CaseSource): LabelledCase =>
  source.kind === 'folder' ? readCase(source.folder) : makeCase(source.name, source.seed);

/** Whether a case has one of these faults; `normal` is a case without any. */
export const hasOneOf = ({ truth }: LabelledCase, faults: readonly string[]): boolean =>
  faults.length === 0 ||
  (truth.length === 0 && faults.some((fault) => fault.startsWith(NORMAL))) ||
  truth.some(({ fault }) => faults.includes(fault));
