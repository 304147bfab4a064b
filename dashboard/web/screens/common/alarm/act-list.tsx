// Alarms of one rule that are over and acknowledged and wait to be reset: each with what it was, to be ticked once it was
// looked at; one act resets those that are ticked, after it named how many and who is recorded for each.

import { useId, useState } from 'preact/hooks';
import type { AlarmView } from '../../../../api/schemas.ts';
import { ActButton } from '../../../base/act-button.tsx';
import { ruleName, t } from '../../../base/messages.ts';
import { doAct, waitingActs } from '../../../live/act-queue.ts';
import { alarmAnswered, now } from '../../../live/lab-state.ts';
import { mayDo, session } from '../../../live/session.ts';
import { subjectName } from '../../../live/state-text.ts';
import { troubleText } from '../../../live/trouble-note.tsx';
import { PastAlarm } from './alarm-card.tsx';
import '../../../forms/choice.css';

const pathOf = ({ id }: AlarmView): string => `/api/alarms/${encodeURIComponent(id)}/reset`;

/** One after the other: each is recorded by itself. Those that could not be reset, with why. */
const resetAll = async (alarms: readonly AlarmView[], onDone: () => void): Promise<readonly string[]> => {
  const refused: string[] = [];
  for (const alarm of alarms) {
    const what = `${subjectName(alarm)}: ${ruleName(alarm.rule)} · ${t('alarm.reset')}`;
    const answer = await doAct<AlarmView>(pathOf(alarm), {}, what, now.peek());
    if (answer.ok === true) alarmAnswered(answer.value);
    if (answer.ok === false) refused.push(`${subjectName(alarm)}: ${troubleText(answer.trouble)}`);
    onDone();
  }
  return refused;
};

const Tick = (props: {
  readonly alarm: AlarmView;
  readonly isTicked: boolean;
  readonly disabled: boolean;
  readonly onChange: (isTicked: boolean) => void;
}) => (
  <label class="choice-one past-tick">
    <input
      type="checkbox"
      checked={props.isTicked}
      disabled={props.disabled}
      onChange={({ currentTarget: { checked } }) => props.onChange(checked)}
    />
    <span class="unseen">
      {t('alarms.reset-one', { what: `${subjectName(props.alarm)}: ${ruleName(props.alarm.rule)}` })}
    </span>
  </label>
);

/** How many are reset by one act, and how many of them have been answered. */
interface Running {
  readonly count: number;
  readonly done: number;
}

const Confirm = (props: {
  readonly count: number;
  readonly running: Running | null;
  readonly onReset: () => void;
  readonly onCancel: () => void;
}) => {
  const { count, running, onReset, onCancel } = props;
  return (
    <div class="reset-sure">
      <p role="status">
        {running === null
          ? t('alarms.reset-sure', { count, name: session.value?.name ?? '–' })
          : t('alarms.reset-running', { ...running })}
      </p>
      <p class="row">
        <ActButton
          text={t('alarms.reset-count', { count })}
          isFirst
          disabled={running !== null}
          onClick={onReset}
        />
        <ActButton text={t('form.cancel')} disabled={running !== null} onClick={onCancel} />
      </p>
    </div>
  );
};

export const ResetList = ({ alarms }: { readonly alarms: readonly AlarmView[] }) => {
  const id = useId();
  const [ticked, setTicked] = useState<readonly string[]>([]);
  const [isAsking, setAsking] = useState(false);
  const [running, setRunning] = useState<Running | null>(null);
  const [refused, setRefused] = useState<readonly string[]>([]);
  const waits = new Set(waitingActs.value.map(({ path }) => path));
  const free = alarms.filter((alarm) => !waits.has(pathOf(alarm)));
  const chosen = free.filter((alarm) => ticked.includes(alarm.id));
  const may = mayDo('handle-alarms');
  const reset = async (): Promise<void> => {
    setRunning({ count: chosen.length, done: 0 });
    setRefused(
      await resetAll(chosen, () => setRunning((before) => before && { ...before, done: before.done + 1 })),
    );
    setRunning(null);
    setAsking(false);
    setTicked([]);
  };
  return (
    <div class="reset-list">
      {may && <p>{t('alarms.reset-explain')}</p>}
      {may && (
        <p class="choice-one">
          <input
            type="checkbox"
            id={`${id}-all`}
            checked={chosen.length === free.length && free.length > 0}
            disabled={running !== null}
            onChange={({ currentTarget: { checked } }) =>
              setTicked(checked ? free.map((alarm) => alarm.id) : [])
            }
          />
          <label for={`${id}-all`}>{t('alarms.reset-all', { count: free.length })}</label>
        </p>
      )}
      <ul class="past-alarms">
        {alarms.map((alarm) => (
          <PastAlarm
            key={alarm.id}
            alarm={alarm}
            tick={
              may ? (
                <Tick
                  alarm={alarm}
                  isTicked={chosen.includes(alarm)}
                  disabled={running !== null || waits.has(pathOf(alarm))}
                  onChange={(isTicked) =>
                    setTicked((before) =>
                      isTicked ? [...before, alarm.id] : before.filter((each) => each !== alarm.id),
                    )
                  }
                />
              ) : null
            }
          />
        ))}
      </ul>
      {refused.length > 0 && (
        <ul role="alert">
          {refused.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
      {may &&
        (running !== null || (isAsking && chosen.length > 0) ? (
          <Confirm
            count={running?.count ?? chosen.length}
            running={running}
            onReset={() => void reset()}
            onCancel={() => setAsking(false)}
          />
        ) : (
          <p class="row">
            <ActButton
              text={t('alarms.reset-count', { count: chosen.length })}
              isFirst={chosen.length > 0}
              disabled={chosen.length === 0}
              onClick={() => setAsking(true)}
            />
          </p>
        ))}
    </div>
  );
};
