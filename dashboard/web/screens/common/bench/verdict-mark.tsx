// A verdict by its shape as well as its words, the same on every screen: a tick, an open diamond, a cross.

import type { ComponentChildren } from 'preact';
import type { Verdict } from '../../../../api/night.ts';
import { Mark } from '../../../base/marks.tsx';
import './verdict-mark.css';

export const VERDICT_TONES: Readonly<Record<Verdict, string>> = {
  remake: 'high',
  check: 'medium',
  'may-be-invested': 'calm',
};

interface VerdictMarkProps {
  readonly verdict: Verdict;
  readonly children: ComponentChildren;
}

export const VerdictMark = ({ verdict, children }: VerdictMarkProps) => (
  <span class="verdict" data-tone={VERDICT_TONES[verdict]}>
    <Mark name={verdict} />
    <span>{children}</span>
  </span>
);

/** When a pattern is due; once that is past, with a sandglass. */
export const DueMark = ({ isOverdue, due }: { readonly isOverdue: boolean; readonly due: string }) =>
  isOverdue ? (
    <span class="verdict" data-tone="medium">
      <Mark name="overdue" />
      <span>{due}</span>
    </span>
  ) : (
    <span>{due}</span>
  );
