// A new pattern in a few taps: only the case is asked for, the rest stands as it was the last time on this device.

import { useSignalEffect } from '@preact/signals';
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { TECHNIQUES } from '../../../../lab/pattern.ts';
import { stores } from '../../../../lab/station-kinds.ts';
import { WAX_CLASS_IDS } from '../../../../wax/classes/wax-class-id.ts';
import type { PatternView } from '../../../api/patterns.ts';
import { t, word } from '../../base/messages.ts';
import { go } from '../../base/router.ts';
import { now, stations } from '../../live/lab-state.ts';
import { ActAnswer } from '../../forms/act-answer.tsx';
import { Amount, Choice } from '../../forms/fields.tsx';
import { useAct } from '../../forms/use-act.ts';
import { WaitingActs } from '../../forms/waiting-acts.tsx';
import '../../forms/work.css';

const STORE = 'waxwarden.last-pattern';
/** The clocks of phone and server differ by less; the server takes nothing from the future. */
const CLOCK_MARGIN_MILLIS = 5000;

interface Facts {
  readonly wax: string;
  readonly technique: string;
  readonly lengthMillimetres: number;
  readonly toleranceMicrometres: number;
  readonly station: string;
}

/** Of a single crown: common practice, for the very first pattern only. */
const FIRST: Facts = {
  wax: 'inlay-type-2',
  technique: 'dipped',
  lengthMillimetres: 10,
  toleranceMicrometres: 50,
  station: '',
};

const lastTime = (): Facts => {
  try {
    return { ...FIRST, ...(JSON.parse(localStorage.getItem(STORE) ?? '{}') as Partial<Facts>) };
  } catch {
    return FIRST;
  }
};

export const storagePlaces = () => stations.value.map((one) => one.value).filter(({ kind }) => stores(kind));

export default function Register() {
  const id = useId();
  const [caseReference, setCase] = useState('');
  const [facts, setFacts] = useState(lastTime);
  const { act, busy, refusal, isKept } = useAct();
  const field = useRef<HTMLInputElement>(null);
  // The one thing that is asked for; the form was opened to fill it in.
  useEffect(() => field.current?.focus(), []);
  useSignalEffect(() => {
    document.title = t('work.register');
  });
  const places = storagePlaces();
  const station = places.find((one) => one.id === facts.station)?.id ?? places[0]?.id ?? '';
  const change = (part: Partial<Facts>) => setFacts({ ...facts, ...part });
  const register = async (): Promise<void> => {
    const body = {
      ...facts,
      station,
      caseReference: caseReference.trim(),
      madeAt: new Date(now.peek() - CLOCK_MARGIN_MILLIS).toISOString(),
    };
    localStorage.setItem(STORE, JSON.stringify({ ...facts, station }));
    const made = await act<PatternView>(
      '/api/patterns',
      body,
      `${t('work.register')}: ${body.caseReference}`,
    );
    setCase('');
    if (made !== null) go(`/p/${made.id}`);
  };
  return (
    <div class="work work-narrow">
      <h1>{t('work.register')}</h1>
      <WaitingActs />
      <form
        class="work-form"
        onSubmit={(event) => {
          event.preventDefault();
          void register();
        }}
      >
        <p class="field">
          <label for={id}>{t('work.case')}</label>
          <input
            id={id}
            value={caseReference}
            required
            maxLength={60}
            autocomplete="off"
            enterKeyHint="done"
            ref={field}
            onInput={(event) => setCase(event.currentTarget.value)}
          />
        </p>
        <Choice
          label={t('work.lies')}
          value={station}
          options={places.map((one) => [one.id, one.name])}
          onChange={(value) => change({ station: value })}
        />
        <Choice
          label={t('station.wax')}
          value={facts.wax}
          options={WAX_CLASS_IDS.map((one) => [one, word('wax', one)])}
          onChange={(wax) => change({ wax })}
        />
        <Choice
          label={t('work.technique')}
          value={facts.technique}
          options={TECHNIQUES.map((one) => [one, word('technique', one)])}
          onChange={(technique) => change({ technique })}
        />
        <Amount
          label={t('work.length')}
          value={facts.lengthMillimetres}
          most={200}
          onInput={(text) => change({ lengthMillimetres: Number.parseFloat(text) })}
        />
        <Amount
          label={t('work.tolerance')}
          value={facts.toleranceMicrometres}
          most={2000}
          onInput={(text) => change({ toleranceMicrometres: Number.parseFloat(text) })}
        />
        <p class="work-thumb">
          <button
            type="submit"
            class="act"
            data-first="true"
            disabled={busy || caseReference.trim() === '' || station === ''}
          >
            {t('work.register-now')}
          </button>
        </p>
      </form>
      <ActAnswer refusal={refusal} isKept={isKept} />
    </div>
  );
}
