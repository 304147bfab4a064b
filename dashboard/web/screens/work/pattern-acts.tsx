// What a person does with a pattern: one tap for each act of the bench, now or at an earlier time; each can be undone.

import { useState } from 'preact/hooks';
import { ACTS_AFTER_INVESTING, ACTS_BEFORE_INVESTING, type LifeActKind } from '../../../../lab/pattern.ts';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { PatternView } from '../../../api/patterns.ts';
import { ActButton } from '../../base/act-button.tsx';
import { formatNumber } from '../../base/format.ts';
import { instantShown } from '../../base/local-days.ts';
import { t, word } from '../../base/messages.ts';
import { now, reader } from '../../live/lab-state.ts';
import { ActAnswer } from '../../forms/act-answer.tsx';
import type { Saving } from '../../forms/saving.tsx';
import { NumberField, TextField } from '../../forms/schema-fields.tsx';
import { PrintLabel } from './label.tsx';
import { storagePlaces } from './register.tsx';
import { useAct } from '../../forms/use-act.ts';
import { nameOfPattern } from '../common/bench/patterns-due.ts';
import { EndForm } from './pattern-end.tsx';
import { submitWith } from '../../forms/submit-with.ts';
import { instantText } from '../../live/instant-text.ts';

interface ActsProps {
  readonly pattern: PatternView;
  readonly onChange: (next: PatternView) => void;
}

/** A refrigerator, where no probe shows otherwise. Common practice. */
const CHILLED_CELSIUS = 5;
/** A place as cold as this is itself the measure of how cold the pattern is. */
const COLD_PLACE_CELSIUS = 12;

/** Those that make sense where it is now. */
const possibleActs = ({ fate, verdict }: PatternView): readonly LifeActKind[] => {
  if (fate !== null)
    return fate.kind === 'invested' ? ACTS_AFTER_INVESTING.filter((kind) => kind !== 'seated') : [];
  const where = verdict?.whereabouts ?? 'standing';
  const hidden: Readonly<Record<typeof where, readonly LifeActKind[]>> = {
    'on-die': ['seated-on-die', 'back-at-room-temperature', 'returned'],
    standing: ['off-die', 'back-at-room-temperature', 'returned'],
    chilled: ['chilled', 'off-die', 'returned'],
    away: [
      'seated-on-die',
      'off-die',
      'chilled',
      'back-at-room-temperature',
      'sent-for-try-in',
      'margins-resealed',
    ],
  };
  return ACTS_BEFORE_INVESTING.filter((kind) => kind !== 'seated' && !hidden[where].includes(kind));
};

/** The text of a field for the lab's own time, as an instant; null while it is empty. */
const typedInstant = (text: string): string | null => {
  const at = instantShown(text, reader.value.timeZone);
  return at === null ? null : new Date(at).toISOString();
};

/** This screen's idea of the server's clock moves a little; what is done now is never before what was done last. */
const newestOf = ({ acts, madeAt, stays }: PatternView): number =>
  Math.max(...[madeAt, ...acts.map((act) => act.at), ...stays.map(({ from }) => from)].map(Date.parse));

const SeatedForm = (props: {
  readonly busy: boolean;
  /** Null: it fits. */
  readonly onSeated: (gapMicrometres: number | null) => void;
  readonly errorAt: Saving['errorAt'];
}) => {
  const [gap, setGap] = useState<number | null>(null);
  return (
    <form
      class="work-form"
      onSubmit={submitWith(() => {
        props.onSeated(gap);
        setGap(null);
      })}
    >
      <p class="row">
        <ActButton text={t('work.seated-fits')} disabled={props.busy} onClick={() => props.onSeated(null)} />
      </p>
      <NumberField
        form={{ fields: FORM_FIELDS['life-act'], saving: props }}
        at="gapMicrometres"
        label="work.seated-gap"
        value={gap}
        onChange={setGap}
      />
      <p>
        <ActButton text={t('work.seated-record')} disabled={props.busy || gap === null} />
      </p>
    </form>
  );
};

const DoneActs = ({
  pattern,
  busy,
  onUndo,
}: {
  readonly pattern: PatternView;
  readonly busy: boolean;
  readonly onUndo: (id: string, kind: string) => void;
}) =>
  pattern.acts.length === 0 ? null : (
    <ul class="done-acts">
      {pattern.acts.map(({ id, kind, at, by, gapMicrometres }) => (
        <li key={id} class="row">
          <span>
            {word('life-act', kind)}
            {gapMicrometres !== undefined &&
              ` (${gapMicrometres === 0 ? t('work.seated-fits') : `${formatNumber(gapMicrometres, 0, reader.value)} µm`})`}
            {`, ${instantText(at)}, ${by}`}
          </span>
          <ActButton text={t('work.take-back')} disabled={busy} onClick={() => onUndo(id, kind)} />
        </li>
      ))}
    </ul>
  );

const MoveTo = ({
  pattern,
  busy,
  onMove,
}: {
  readonly pattern: PatternView;
  readonly busy: boolean;
  readonly onMove: (station: string, name: string) => void;
}) => (
  <fieldset class="row">
    <legend>{t('work.move')}</legend>
    {storagePlaces().map(({ id, name }) => (
      <ActButton
        key={id}
        text={name}
        isPressed={id === pattern.station}
        disabled={busy || id === pattern.station}
        onClick={() => onMove(id, name)}
      />
    ))}
  </fieldset>
);

/** A cold place measures itself; elsewhere a refrigerator is meant. */
const celsiusOf = (kind: LifeActKind, { verdict }: PatternView): { celsius?: number } =>
  kind === 'chilled' && !((verdict?.celsius ?? Infinity) < COLD_PLACE_CELSIUS)
    ? { celsius: CHILLED_CELSIUS }
    : {};

type RecordAct = (kind: LifeActKind, more?: object) => void;
/** Sends one act of the pattern; `what` names it among what waits to be sent. */
type DoAct = (verb: string, body: object, what: string) => void;

interface PanelProps {
  readonly pattern: PatternView;
  readonly busy: boolean;
  readonly errorAt: Saving['errorAt'];
  readonly doAct: DoAct;
  /** The instant that is entered, else now. */
  readonly at: () => string;
}

/** The acts of the bench, investing, and what was done already. */
const BenchPanel = (
  props: PanelProps & {
    readonly when: string;
    readonly onWhen: (when: string) => void;
    readonly record: RecordAct;
  },
) => {
  const { pattern, busy, errorAt, doAct, at, record } = props;
  const { fate, verdict } = pattern;
  const invested = word('fate', 'invested');
  return (
    <div class="work-panel wide-panel">
      <fieldset class="row">
        <legend>{t('work.acts')}</legend>
        {possibleActs(pattern).map((kind) => (
          <ActButton key={kind} text={word('life-act', kind)} disabled={busy} onClick={() => record(kind)} />
        ))}
        {fate === null && (
          <ActButton
            text={word('fate-act', 'invested')}
            isFirst={verdict?.code === 'may-be-invested'}
            disabled={busy}
            onClick={() => doAct('end', { fate: 'invested', reason: invested, at: at() }, invested)}
          />
        )}
      </fieldset>
      {(fate === null || fate.kind === 'invested') && (
        <TextField
          form={{ fields: FORM_FIELDS['life-act'], saving: { errorAt } }}
          at="at"
          label="work.when"
          type="datetime-local"
          value={props.when}
          onChange={props.onWhen}
        />
      )}
      {fate === null && <p class="dim">{t('work.reseal-caution')}</p>}
      <DoneActs
        pattern={pattern}
        busy={busy}
        onUndo={(id, kind) => doAct('acts/undo', { id }, `${t('work.take-back')}: ${word('life-act', kind)}`)}
      />
    </div>
  );
};

/** Where a waiting pattern goes next, and the way back for one that ended. */
const NextPanels = ({ pattern, busy, errorAt, doAct, at }: PanelProps) =>
  pattern.fate === null ? (
    <>
      <div class="work-panel">
        <MoveTo
          pattern={pattern}
          busy={busy}
          onMove={(station, name) => doAct('move', { station, at: at() }, `${t('work.move')} ${name}`)}
        />
      </div>
      <EndForm
        busy={busy}
        errorAt={errorAt}
        onEnd={(fate, reason) => doAct('end', { fate, reason, at: at() }, word('fate', fate))}
      />
    </>
  ) : (
    <p class="work-panel">
      <ActButton
        text={t('work.resume')}
        disabled={busy}
        onClick={() => doAct('resume', { reason: t('work.resume-reason') }, t('work.resume'))}
      />
    </p>
  );

export const PatternActs = ({ pattern, onChange }: ActsProps) => {
  const { act, busy, refusal, isKept, errorAt } = useAct();
  const [when, setWhen] = useState('');
  const doAct: DoAct = async (verb, body, what) => {
    const path = `/api/patterns/${pattern.id}/${verb}`;
    const next = await act<PatternView>(path, body, `${nameOfPattern(pattern)}: ${what}`);
    setWhen('');
    if (next !== null) onChange(next);
  };
  const at = () => typedInstant(when) ?? new Date(Math.max(now.peek(), newestOf(pattern))).toISOString();
  const record: RecordAct = (kind, more) =>
    doAct('acts', { kind, at: at(), ...celsiusOf(kind, pattern), ...more }, word('life-act', kind));
  const panel: PanelProps = { pattern, busy, errorAt, doAct, at };
  const { fate } = pattern;
  return (
    <section class="work-acts pattern-acts no-print">
      <BenchPanel {...panel} when={when} onWhen={setWhen} record={record} />
      {(fate === null || fate.kind === 'invested') && (
        <fieldset class="work-panel">
          <legend>{t(fate === null ? 'work.seated' : 'work.seated-casting')}</legend>
          <SeatedForm
            busy={busy}
            errorAt={errorAt}
            onSeated={(gap) => record('seated', gap === null ? {} : { gapMicrometres: gap })}
          />
        </fieldset>
      )}
      <NextPanels {...panel} />
      <div class="work-panel">
        <PrintLabel />
        {pattern.caseReference !== '' && (
          <p>
            <ActButton
              text={t('work.erase-case')}
              disabled={busy}
              onClick={() =>
                confirm(t('work.erase-case-sure')) && doAct('erase-case', {}, t('work.erase-case'))
              }
            />
          </p>
        )}
      </div>
      <ActAnswer refusal={refusal} isKept={isKept} />
    </section>
  );
};
