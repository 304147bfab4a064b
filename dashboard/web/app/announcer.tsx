// Tells new alarms at once and changes politely to those who listen to the screen; shown to nobody's eye, because
// the screen itself shows them.

import { signal, useSignalEffect } from '@preact/signals';
import { line, loaded, openAlarms } from '../live/lab-state.ts';
import { needsHands } from '../base/face.ts';
import { ruleName, t } from '../base/messages.ts';

const raised = signal('');
const changed = signal('');
let known: ReadonlyMap<string, string> | null = null;

export const Announcer = () => {
  useSignalEffect(() => {
    const waiting = openAlarms.value.filter(needsHands);
    const next = new Map(waiting.map((alarm) => [alarm.id, alarm.stateCode]));
    if (known !== null && loaded.value) {
      const before = known;
      const fresh = waiting.filter(
        (alarm) =>
          !alarm.acknowledged &&
          (!before.has(alarm.id) || (alarm.stateCode === 'B' && before.get(alarm.id) !== 'B')),
      );
      if (fresh.length > 0)
        raised.value = fresh
          .map((alarm) => `${alarm.stationName ?? alarm.subject}: ${ruleName(alarm.rule)}. ${alarm.action}`)
          .join(' ');
      const gone = [...before.keys()].filter((id) => !next.has(id)).length;
      if (gone > 0) changed.value = t('announce.over', { count: gone, left: waiting.length });
    }
    if (loaded.value) known = next;
  });
  useSignalEffect(() => {
    if (line.value === 'down') changed.value = t('line.lost');
    if (line.value === 'up' && changed.peek() === t('line.lost')) changed.value = t('line.back');
  });
  return (
    <div class="unseen">
      <p role="alert">{raised.value}</p>
      <p role="status">{changed.value}</p>
    </div>
  );
};
