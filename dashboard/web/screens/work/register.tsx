// A new pattern in a few taps: only the case is entered, the rest is filled in as it was the last time on this device.

import { useLocation } from 'preact-iso';
import { useState } from 'preact/hooks';
import { stores } from '../../../../lab/station-kinds.ts';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { ChargeView } from '../../../api/charges.ts';
import type { PatternView } from '../../../api/patterns.ts';
import type { StationView } from '../../../api/schemas.ts';
import { ActLink } from '../../base/act-link.tsx';
import { ActButton } from '../../base/act-button.tsx';
import { t } from '../../base/messages.ts';
import { ActAnswer } from '../../forms/act-answer.tsx';
import { useAct } from '../../forms/use-act.ts';
import { WaitingActs } from '../../forms/waiting-acts.tsx';
import { loaded, now, stations } from '../../live/lab-state.ts';
import { mayDo } from '../../live/session.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { CaseField, FactFields, type PatternFacts, wayOfWax } from './pattern-fields.tsx';
import '../../forms/work.css';
import { submitWith } from '../../forms/submit-with.ts';
import { useTitle } from '../../base/use-title.ts';

const STORE = 'waxwarden.last-pattern';
/** The clocks of phone and server differ by less; the server takes nothing from the future. */
const CLOCK_MARGIN_MILLIS = 5000;

/** Of a single crown: common practice, for the very first pattern only. */
const FIRST: PatternFacts = {
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

const lastTime = (): PatternFacts => {
  try {
    return { ...FIRST, ...(JSON.parse(localStorage.getItem(STORE) ?? '{}') as Partial<PatternFacts>) };
  } catch {
    return FIRST;
  }
};

export const storagePlaces = (): readonly StationView[] =>
  stations.value.map((station) => station.value).filter(({ kind }) => stores(kind));

const NoPlaces = () => (
  <div class="note">
    <p>{t('work.no-places')}</p>
    {mayDo('set-up-lab') && <ActLink href="/set-up/stations" text="work.no-places-add" isFirst />}
  </div>
);

export default function Register() {
  const [caseReference, setCase] = useState('');
  const [lastFacts, setFacts] = useState(lastTime);
  const { act, busy, refusal, isKept, errorAt } = useAct();
  const form = { fields: FORM_FIELDS.pattern, saving: { errorAt } };
  useTitle(() => t('work.register'));
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
      {loaded.value && places.length === 0 ? (
        <NoPlaces />
      ) : (
        <form class="work-form" onSubmit={submitWith(register)}>
          <CaseField form={form} value={caseReference} onChange={setCase} />
          <FactFields
            form={form}
            facts={facts}
            charges={charges}
            places={places}
            change={(part) => setFacts({ ...facts, ...part })}
          />
          <p class="work-thumb">
            <ActButton
              text={t('work.register-now')}
              isFirst
              disabled={busy || caseReference.trim() === '' || station === ''}
            />
          </p>
        </form>
      )}
      <ActAnswer refusal={refusal} isKept={isKept} />
    </div>
  );
}
