// Announces new alarms at once and other changes politely to screen readers. Invisible, because the screen itself
// shows them.

import { signal, useSignalEffect } from '@preact/signals';
import { line, loaded, openAlarms } from '../live/lab-state.ts';
import { needsHands } from '../base/face.ts';
import { ruleName, t } from '../base/messages.ts';

const raised = signal('');
const changed = signal('');
/** State of each alarm by its id when it was last announced. */
let announced: ReadonlyMap<string, string> | null = null;

export const Announcer = () => {
  useSignalEffect(() => {
    const waiting = openAlarms.value.filter(needsHands);
    const next = new Map(waiting.map((alarm) => [alarm.id, alarm.stateCode]));
    if (announced !== null && loaded.value) {
      const before = announced;
      const fresh = waiting.filter(
        (alarm) =>
          !alarm.acknowledged &&
          (!before.has(alarm.id) || (alarm.stateCode === 'B' && before.get(alarm.id) !== 'B')),
      );
      if (fresh.length > 0)
        raised.value = fresh
          .map((alarm) => `${alarm.stationName ?? alarm.subject}: ${ruleName(alarm.rule)}. ${alarm.action}`)
          .join(' ');
      const endedCount = [...before.keys()].filter((id) => !next.has(id)).length;
      if (endedCount > 0) changed.value = t('announce.over', { count: endedCount, left: waiting.length });
    }
    if (loaded.value) announced = next;
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
