// Alarms of one rule that are over and wait to be acknowledged, or to be reset: each with what it was, to be ticked once
// it was looked at; one act is for all that are ticked, after it named how many and who is recorded for each.

import { useId, useState } from 'preact/hooks';
import type { AlarmView } from '../../../../api/schemas.ts';
import { ActButton } from '../../../base/act-button.tsx';
import { type MessageKey, ruleName, t } from '../../../base/messages.ts';
import { doAct, waitingActs } from '../../../live/act-queue.ts';
import { alarmAnswered, now } from '../../../live/lab-state.ts';
import { mayDo, session } from '../../../live/session.ts';
import { subjectName } from '../../../live/state-text.ts';
import { troubleText } from '../../../live/trouble-note.tsx';
import { Caution, PastAlarm } from './alarm-card.tsx';
import '../../../forms/choice.css';

export type ListedAct = 'acknowledge' | 'reset';

const TEXTS: Readonly<Record<ListedAct, Readonly<Record<'act' | 'explain' | 'count' | 'sure', MessageKey>>>> =
  {
    acknowledge: {
      act: 'alarm.acknowledge',
      explain: 'alarms.acknowledge-explain',
      count: 'alarms.acknowledge-count',
      sure: 'alarms.acknowledge-sure',
    },
    reset: {
      act: 'alarm.reset',
      explain: 'alarms.reset-explain',
      count: 'alarms.reset-count',
      sure: 'alarms.reset-sure',
    },
  };

const pathOf = ({ id }: AlarmView, act: ListedAct): string => `/api/alarms/${encodeURIComponent(id)}/${act}`;

/** One after the other: each is recorded by itself. Those that were refused, with why. */
const actOnAll = async (
  alarms: readonly AlarmView[],
  act: ListedAct,
  onDone: () => void,
): Promise<readonly string[]> => {
  const refused: string[] = [];
  for (const alarm of alarms) {
    const what = `${subjectName(alarm)}: ${ruleName(alarm.rule)} · ${t(TEXTS[act].act)}`;
    const body = act === 'acknowledge' ? { seenCount: alarm.count } : {};
    const answer = await doAct<AlarmView>(pathOf(alarm, act), body, what, now.peek());
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
      {t('alarms.tick-one', { what: `${subjectName(props.alarm)}: ${ruleName(props.alarm.rule)}` })}
    </span>
  </label>
);

/** How many one act is for, and how many of them have been answered. */
interface Running {
  readonly count: number;
  readonly done: number;
}

const Confirm = (props: {
  readonly act: ListedAct;
  readonly count: number;
  readonly running: Running | null;
  readonly onAct: () => void;
  readonly onCancel: () => void;
}) => {
  const { act, count, running, onAct, onCancel } = props;
  return (
    <div class="act-sure">
      <p role="status">
        {running === null
          ? t(TEXTS[act].sure, { count, name: session.value?.name ?? '–' })
          : t('alarms.act-running', { ...running })}
      </p>
      <p class="row">
        <ActButton
          text={t(TEXTS[act].count, { count })}
          isFirst
          disabled={running !== null}
          onClick={onAct}
        />
        <ActButton text={t('form.cancel')} disabled={running !== null} onClick={onCancel} />
      </p>
    </div>
  );
};

/** Each once. */
const cautionsOf = (alarms: readonly AlarmView[]): readonly string[] => [
  ...new Set(alarms.map(({ caution }) => caution)),
];

interface ActListProps {
  readonly act: ListedAct;
  readonly alarms: readonly AlarmView[];
}

export const ActList = ({ act, alarms }: ActListProps) => {
  const id = useId();
  const [ticked, setTicked] = useState<readonly string[]>([]);
  const [isAsking, setAsking] = useState(false);
  const [running, setRunning] = useState<Running | null>(null);
  const [refused, setRefused] = useState<readonly string[]>([]);
  const waits = new Set(waitingActs.value.map(({ path }) => path));
  const free = alarms.filter((alarm) => !waits.has(pathOf(alarm, act)));
  const chosen = free.filter((alarm) => ticked.includes(alarm.id));
  const may = mayDo('handle-alarms');
  const actOnChosen = async (): Promise<void> => {
    setRunning({ count: chosen.length, done: 0 });
    setRefused(
      await actOnAll(chosen, act, () =>
        setRunning((before) => before && { ...before, done: before.done + 1 }),
      ),
    );
    setRunning(null);
    setAsking(false);
    setTicked([]);
  };
  return (
    <div class="act-list">
      {act === 'acknowledge' && cautionsOf(alarms).map((text) => <Caution key={text} text={text} />)}
      {may && <p>{t(TEXTS[act].explain)}</p>}
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
          <label for={`${id}-all`}>{t('alarms.tick-all', { count: free.length })}</label>
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
                  disabled={running !== null || waits.has(pathOf(alarm, act))}
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
            act={act}
            count={running?.count ?? chosen.length}
            running={running}
            onAct={() => void actOnChosen()}
            onCancel={() => setAsking(false)}
          />
        ) : (
          <p class="row">
            <ActButton
              text={t(TEXTS[act].count, { count: chosen.length })}
              isFirst={chosen.length > 0}
              disabled={chosen.length === 0}
              onClick={() => setAsking(true)}
            />
          </p>
        ))}
    </div>
  );
};
