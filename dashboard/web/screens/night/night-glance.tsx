// The answer before the figures: what to remake, to check, to invest, and what to see to, worst first.

import type { NightSheet, Verdict } from '../../../api/night.ts';
import { namesOf } from '../../../reports/night/named-patterns.ts';
import { t, word } from '../../base/messages.ts';
import { Mark } from '../../base/marks.tsx';
import { VERDICT_TONES, VerdictMark } from '../common/bench/verdict-mark.tsx';

const ORDER = ['remake', 'check', 'may-be-invested'] as const satisfies readonly Verdict[];

interface VerdictProps {
  readonly verdict: Verdict;
  /** A place is fit to store in; what lies there may be invested. */
  readonly of?: 'verdict' | 'place-verdict';
}

export const VerdictWord = ({ verdict, of = 'verdict' }: VerdictProps) => (
  <VerdictMark verdict={verdict}>{word(of, verdict)}</VerdictMark>
);

export const NightGlance = ({ sheet }: { readonly sheet: NightSheet }) => (
  <section aria-labelledby="night-glance">
    <h2 id="night-glance" class="unseen">
      {t('night.glance')}
    </h2>
    <ul class="glance">
      {ORDER.map((verdict) => {
        const patterns = sheet.patterns.filter(
          (pattern) => pattern.verdict === verdict && pattern.fate === null,
        );
        return (
          <li key={verdict} data-tone={patterns.length === 0 ? 'calm' : VERDICT_TONES[verdict]}>
            <h3>
              <Mark name={verdict} />
              {word('verdict', verdict)}
              <span class="glance-count">{patterns.length}</span>
            </h3>
            <p>
              {patterns.length === 0
                ? t('night.none')
                : namesOf(patterns, (count) => t('night.further', { count }))}
            </p>
          </li>
        );
      })}
    </ul>
    <h2>{t('night.see-to')}</h2>
    {sheet.seeTo.length === 0 && <p>{t('night.nothing')}</p>}
    <ul class="see-to">
      {sheet.seeTo.map(({ what, text }) => (
        <li key={text} data-what={what}>
          {text}
        </li>
      ))}
    </ul>
  </section>
);
