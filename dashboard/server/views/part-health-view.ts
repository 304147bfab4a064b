// The health of the parts in the reader's words, with the codes beside them for programs.

import type { PartHealth } from '../../../collector/part-health.ts';
import type { Say } from '../../../words/load-languages.ts';
import { whatIsWrong } from '../../../words/problem-text.ts';
import type { PartHealthView } from '../../api/schemas.ts';

export const partHealthView = ({ ok, state, problems }: PartHealth, say: Say): PartHealthView => ({
  ok,
  detail: [
    ...(state === undefined ? [] : [say(`health.${state.code}`, state.values)]),
    ...problems.map((problem) => whatIsWrong(say, problem)),
  ].join(' · '),
  problems: problems.map(({ code, values }) => ({
    code,
    ...(values !== undefined && { values: { ...values } }),
  })),
});
