// Alarms that are over and wait for a person: several of one rule as a list of which many are acknowledged, or reset, by
// one act.

import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import type { AlarmView } from '../../../../api/schemas.ts';
import { type MessageKey, t } from '../../../base/messages.ts';
import { ActList, type ListedAct } from './act-list.tsx';
import { AlarmCards } from './alarm-cards.tsx';
import { isToReset, offeredActs } from './offered-acts.ts';
import { isPast } from '../../../base/face.ts';

/** So many of one rule are a list. Acknowledging takes one tap on a card, so that two are quicker there. */
const LEAST_LISTED: Readonly<Record<ListedAct, number>> = { acknowledge: 3, reset: 2 };

const isToAcknowledge = (alarm: AlarmView): boolean =>
  isPast(alarm) && offeredActs(alarm).includes('acknowledge');

/** By rule, so that those that are listed together are alike. */
const useListed = (alarms: readonly AlarmView[], act: ListedAct) => {
  const listed = useRef(new Set<string>());
  const rules = [...new Set(alarms.map(({ rule }) => rule))];
  const groups = rules.map((rule) => ({ rule, alike: alarms.filter((alarm) => alarm.rule === rule) }));
  // What is under way in a list and what was refused there stays in sight down to its last one.
  const kept = groups.filter(
    ({ rule, alike }) => listed.current.has(rule) || alike.length >= LEAST_LISTED[act],
  );
  listed.current = new Set(kept.map(({ rule }) => rule));
  return groups.map((group) => ({ ...group, isList: listed.current.has(group.rule) }));
};

const HEADINGS: Readonly<Record<ListedAct, MessageKey>> = {
  acknowledge: 'alarms.to-acknowledge',
  reset: 'alarms.to-reset',
};

interface PartProps {
  readonly act: ListedAct;
  readonly groups: ReturnType<typeof useListed>;
}

const Part = ({ act, groups }: PartProps) =>
  groups.length === 0 ? null : (
    <section class="alarm-group">
      <h2>{t(HEADINGS[act])}</h2>
      {groups.map(({ rule, alike, isList }) =>
        isList ? <ActList key={rule} act={act} alarms={alike} /> : <AlarmCards key={rule} alarms={alike} />,
      )}
    </section>
  );

interface OverAlarmsProps {
  readonly alarms: readonly AlarmView[];
  /** Draws those that are neither to be reset nor in a list. */
  readonly others: (alarms: readonly AlarmView[]) => ComponentChildren;
}

export const WithOverAlarms = ({ alarms, others }: OverAlarmsProps) => {
  const toAcknowledge = useListed(alarms.filter(isToAcknowledge), 'acknowledge').filter(
    ({ isList }) => isList,
  );
  const toReset = useListed(alarms.filter(isToReset), 'reset');
  const apart = new Set([...toAcknowledge, ...toReset].flatMap(({ alike }) => alike));
  return (
    <>
      {others(alarms.filter((alarm) => !apart.has(alarm)))}
      <Part act="acknowledge" groups={toAcknowledge} />
      <Part act="reset" groups={toReset} />
    </>
  );
};
