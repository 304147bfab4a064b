// Alarms that are over, acknowledged, and to be reset: several of one rule as a list of which many are reset by one act.

import { useRef } from 'preact/hooks';
import type { AlarmView } from '../../../../api/schemas.ts';
import { t } from '../../../base/messages.ts';
import { AlarmCards } from './alarm-cards.tsx';
import { ResetList } from './reset-list.tsx';

/** By rule, so that those that are reset together are alike; a single one has its own card. */
export const ToReset = ({ alarms }: { readonly alarms: readonly AlarmView[] }) => {
  const listed = useRef(new Set<string>());
  if (alarms.length === 0) {
    listed.current.clear();
    return null;
  }
  const rules = [...new Set(alarms.map(({ rule }) => rule))];
  return (
    <section class="alarm-group">
      <h2>{t('alarms.to-reset')}</h2>
      {rules.map((rule) => {
        const alike = alarms.filter((alarm) => alarm.rule === rule);
        // What is under way in a list and what was refused there stays in sight down to its last one.
        if (alike.length > 1) listed.current.add(rule);
        return listed.current.has(rule) ? (
          <ResetList key={rule} alarms={alike} />
        ) : (
          <AlarmCards key={rule} alarms={alike} />
        );
      })}
    </section>
  );
};
