// A new pattern in a few taps: only the case is asked for, the rest stands as it was the last time on this device.

import { useSignalEffect } from '@preact/signals';
import { useLocation } from 'preact-iso';
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { looksLikeName } from '../../../../lab/case-reference.ts';
import { ORIGINS, PATTERN_KINDS, SOFTENINGS, TECHNIQUES } from '../../../../lab/pattern.ts';
import { stores } from '../../../../lab/station-kinds.ts';
import { WAX_CLASS_IDS } from '../../../../wax/classes/wax-class-id.ts';
import type { ChargeView, PatternView } from '../../../api/patterns.ts';
import type { StationView } from '../../../api/schemas.ts';
import { t, word } from '../../base/messages.ts';
import { now, stations } from '../../live/lab-state.ts';
import { ActAnswer } from '../../forms/act-answer.tsx';
import { Amount, Choice } from '../../forms/fields.tsx';
import { useAct } from '../../forms/use-act.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { LotChoice, useLots } from './lot-choice.tsx';
import { LotShares } from './lot-shares.tsx';
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
  readonly kind: string;
  readonly origin: string;
  readonly softening: string;
  readonly isMadeOnDie: boolean;
  /** Station whose charge the wax came from; empty: straight from the pack; null: as its origin suggests. */
  readonly pot: string | null;
  /** Of wax from the pack; empty: not recorded. */
  readonly lot: string;
}

/** Of a single crown: common practice, for the very first pattern only. */
const FIRST: Facts = {
  wax: 'inlay-type-2',
  technique: 'dipped',
  lengthMillimetres: 10,
  toleranceMicrometres: 50,
  station: '',
  kind: 'pattern',
  origin: 'dip',
  softening: '',
  isMadeOnDie: false,
  pot: null,
  lot: '',
};

const lastTime = (): Facts => {
  try {
    return { ...FIRST, ...(JSON.parse(localStorage.getItem(STORE) ?? '{}') as Partial<Facts>) };
  } catch {
    return FIRST;
  }
};

export const storagePlaces = (): readonly StationView[] =>
  stations.value.map((station) => station.value).filter(({ kind }) => stores(kind));

/** The pots that hold this wax, and the one that it was taken from. */
const wayOfWax = ({ wax, origin, pot }: Facts, charges: readonly ChargeView[]) => {
  const pots = charges.filter((charge) => charge.endedAt === null && charge.wax.id === wax);
  const suggested = pot === null && (origin === 'pot' || origin === 'dip') ? pots[0] : undefined;
  return { pots, charge: pots.find(({ station }) => station === pot) ?? suggested };
};

const WaxFields = (props: {
  readonly facts: Facts;
  readonly charges: readonly ChargeView[];
  readonly change: (part: Partial<Facts>) => void;
}) => {
  const { facts, change } = props;
  const { pots, charge } = wayOfWax(facts, props.charges);
  const lots = useLots();
  return (
    <>
      <Choice
        label={t('station.wax')}
        value={facts.wax}
        options={WAX_CLASS_IDS.map((wax) => [wax, word('wax', wax)])}
        onChange={(wax) => change({ wax, lot: '' })}
      />
      {pots.length > 0 && (
        <Choice
          label={t('work.from-charge')}
          value={charge?.station ?? ''}
          options={[
            ['', t('work.from-pack')],
            ...pots.map(({ station, stationName }) => [station, stationName] as const),
          ]}
          onChange={(pot) => change({ pot })}
        />
      )}
      {charge === undefined ? (
        <LotChoice lots={lots} wax={facts.wax} value={facts.lot} onChange={(lot) => change({ lot })} />
      ) : (
        charge.lots.length > 0 && (
          <p class="dim">
            <LotShares lots={charge.lots} />
          </p>
        )
      )}
    </>
  );
};

const CaseField = (props: { readonly value: string; readonly onChange: (text: string) => void }) => {
  const id = useId();
  const field = useRef<HTMLInputElement>(null);
  // The one thing that is asked for; the form was opened to fill it in.
  useEffect(() => field.current?.focus(), []);
  return (
    <p class="field">
      <label for={id}>{t('work.case')}</label>
      <input
        id={id}
        value={props.value}
        required
        maxLength={60}
        autocomplete="off"
        enterKeyHint="done"
        ref={field}
        aria-describedby={`${id}-hint`}
        onInput={(event) => props.onChange(event.currentTarget.value)}
      />
      <span id={`${id}-hint`} class="dim" role="status">
        {looksLikeName(props.value) ? t('work.case-name') : ''}
      </span>
    </p>
  );
};

const FactFields = (props: {
  readonly facts: Facts;
  readonly charges: readonly ChargeView[];
  readonly places: readonly StationView[];
  readonly change: (part: Partial<Facts>) => void;
}) => {
  const { facts, change } = props;
  return (
    <>
      <Choice
        label={t('work.lies')}
        value={facts.station}
        options={props.places.map(({ id, name }) => [id, name])}
        onChange={(station) => change({ station })}
      />
      <WaxFields facts={facts} charges={props.charges} change={change} />
      <Choice
        label={t('work.kind')}
        value={facts.kind}
        options={PATTERN_KINDS.map((kind) => [kind, word('pattern-kind', kind)])}
        onChange={(kind) => change({ kind })}
      />
      <Choice
        label={t('work.origin')}
        value={facts.origin}
        options={ORIGINS.map((origin) => [origin, word('origin', origin)])}
        onChange={(origin) => change({ origin })}
      />
      <Choice
        label={t('work.softening')}
        value={facts.softening}
        options={[
          ['', t('work.softening-none')],
          ...SOFTENINGS.map((softening) => [softening, word('softening', softening)] as const),
        ]}
        onChange={(softening) => change({ softening })}
      />
      <p>
        <label class="tick">
          <input
            type="checkbox"
            checked={facts.isMadeOnDie}
            onChange={(event) => change({ isMadeOnDie: event.currentTarget.checked })}
          />{' '}
          {t('work.made-on-die')}
        </label>
      </p>
      <Choice
        label={t('work.technique')}
        value={facts.technique}
        options={TECHNIQUES.map((technique) => [technique, word('technique', technique)])}
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
    </>
  );
};

export default function Register() {
  const [caseReference, setCase] = useState('');
  const [lastFacts, setFacts] = useState(lastTime);
  const { act, busy, refusal, isKept } = useAct();
  useSignalEffect(() => {
    document.title = t('work.register');
  });
  const { route } = useLocation();
  const charges = useLoaded<readonly ChargeView[]>('/api/charges').value ?? [];
  const places = storagePlaces();
  const station = places.find(({ id }) => id === lastFacts.station)?.id ?? places[0]?.id ?? '';
  const facts = { ...lastFacts, station };
  const register = async (): Promise<void> => {
    const { softening, pot: _, lot, ...rest } = facts;
    const { charge } = wayOfWax(facts, charges);
    const body = {
      ...rest,
      ...(softening !== '' && { softening }),
      ...(charge !== undefined && { charge: charge.id }),
      ...(charge === undefined && lot !== '' && { lot }),
      caseReference: caseReference.trim(),
      madeAt: new Date(now.peek() - CLOCK_MARGIN_MILLIS).toISOString(),
    };
    localStorage.setItem(STORE, JSON.stringify(facts));
    const what = `${t('work.register')}: ${body.caseReference}`;
    const made = await act<PatternView>('/api/patterns', body, what);
    setCase('');
    if (made !== null) route(`/p/${made.id}`);
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
        <CaseField value={caseReference} onChange={setCase} />
        <FactFields
          facts={facts}
          charges={charges}
          places={places}
          change={(part) => setFacts({ ...facts, ...part })}
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
