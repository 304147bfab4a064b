// The alarm list: unacknowledged alarms first, the worse before the lesser; then what was acknowledged, what is
// over and to be reset, what was suppressed, and what is over.

import type { AlarmView } from '../../../api/schemas.ts';
import { read } from '../../base/api.ts';
import { type MessageKey, t } from '../../base/messages.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { useLoadedBy } from '../../live/use-loaded.ts';
import { alarms as alarmsSignal, loaded, openAlarms, trouble } from '../../live/lab-state.ts';
import { byUrgency, isSuppressed } from '../../base/face.ts';
import { WaitingActs } from '../../forms/waiting-acts.tsx';
import { StandingNote } from '../common/alarm/standing-note.tsx';
import { PastAlarm } from '../common/alarm/alarm-card.tsx';
import { AlarmCards } from '../common/alarm/alarm-cards.tsx';
import { WithOverAlarms } from '../common/alarm/over-alarms.tsx';
import { useTitle } from '../../base/use-title.ts';

const PAST_LIMIT = 100;

const Group = (props: { readonly heading: MessageKey; readonly alarms: readonly AlarmView[] }) =>
  props.alarms.length === 0 ? null : (
    <section class="alarm-group">
      <h2>{t(props.heading, { count: props.alarms.length })}</h2>
      <AlarmCards alarms={props.alarms} />
    </section>
  );

const Past = () => {
  const open = alarmsSignal.value;
  // Asked for again whenever an alarm comes or goes.
  const { value: past, trouble: failed } = useLoadedBy<readonly AlarmView[]>(
    `past alarms beside ${open.size}`,
    (signal) => read(`/api/alarms?state=all&limit=${PAST_LIMIT}`, signal),
    { followsLab: false },
  );
  if (failed) return <TroubleNote trouble={failed} />;
  const over = (past ?? []).filter((alarm) => !open.has(alarm.id));
  return (
    <section class="alarm-group">
      <h2>{t('alarms.past')}</h2>
      {past !== null && over.length === 0 && <p class="dim">{t('alarms.none-past')}</p>}
      {over.length > 0 && (
        <ul class="past-alarms">
          {over.map((alarm) => (
            <PastAlarm key={alarm.id} alarm={alarm} />
          ))}
        </ul>
      )}
    </section>
  );
};

export default function Alarms() {
  useTitle(() => t('alarms.title'));
  if (trouble.value && !loaded.value) return <TroubleNote trouble={trouble.value} />;
  const sorted = [...openAlarms.value].sort(byUrgency);
  const live = sorted.filter((alarm) => !isSuppressed(alarm));
  return (
    <>
      <h1>{t('alarms.title')}</h1>
      {loaded.value && live.length === 0 && <StandingNote />}
      <WithOverAlarms
        alarms={live}
        others={(alarms) => (
          <>
            <Group heading="alarms.waiting" alarms={alarms.filter(({ acknowledged }) => !acknowledged)} />
            <Group heading="alarms.seen" alarms={alarms.filter(({ acknowledged }) => acknowledged)} />
          </>
        )}
      />
      <Group heading="alarms.aside" alarms={sorted.filter(isSuppressed)} />
      <WaitingActs />
      {loaded.value && <Past />}
    </>
  );
}
