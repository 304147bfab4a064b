// What a person does at a place, opened by the code on it: top up, fill anew, clean; load in, load out.

import { useComputed, useSignalEffect } from '@preact/signals';
import { useRoute } from 'preact-iso';
import { useId, useState } from 'preact/hooks';
import { STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import { WAX_CLASS_IDS } from '../../../../wax/classes/wax-class-id.ts';
import type { ChargeView } from '../../../api/patterns.ts';
import type { StationView } from '../../../api/schemas.ts';
import { t, word } from '../../base/messages.ts';
import { mayDo } from '../../live/session.ts';
import { loaded, now, openAlarms, stations } from '../../live/lab-state.ts';
import { byUrgency } from '../../base/face.ts';
import { AlarmCard } from '../common/alarm-card.tsx';
import { Intents } from '../common/intents.tsx';
import { KindCaution } from '../common/kind-caution.tsx';
import { StationHead } from '../common/station-head.tsx';
import { ActAnswer } from '../../forms/act-answer.tsx';
import { ChargeCard } from './charge-card.tsx';
import { Amount, Choice } from '../../forms/fields.tsx';
import { LotChoice, useLots } from './lot-choice.tsx';
import { Label, PrintLabel } from './label.tsx';
import { useLoaded } from '../../live/use-loaded.ts';
import { useAct } from '../../forms/use-act.ts';
import { WaitingActs } from '../../forms/waiting-acts.tsx';
import '../../forms/work.css';

type Act = (verb: string, body: object, what: string) => Promise<void>;
interface PartProps {
  readonly busy: boolean;
  readonly act: Act;
}

/** What waits for a network is sent later, and is to count from when it was done. */
const doneNow = (): string => new Date(now.peek()).toISOString();

/** More than any pot of a bench holds. */
const MOST_GRAMS = 20_000;

const Pot = ({
  station,
  charge,
  busy,
  act,
}: PartProps & { station: StationView; charge: ChargeView | null }) => {
  const [fresh, setFresh] = useState('');
  const [grams, setGrams] = useState(String(station.chargeGrams ?? ''));
  const [wax, setWax] = useState<string>(station.wax?.id ?? 'inlay-type-2');
  const lots = useLots();
  const [freshLot, setFreshLot] = useState(charge?.lots[0]?.lot ?? '');
  const [lot, setLot] = useState('');
  const named = (id: string, ofWax: string | undefined): { lot?: string } =>
    lots.some((each) => each.id === id && each.wax.id === ofWax) ? { lot: id } : {};
  return (
    <>
      {charge !== null && (
        <form
          class="work-form"
          onSubmit={(event) => {
            event.preventDefault();
            const body = { grams: Number(fresh), at: doneNow(), ...named(freshLot, charge.wax.id) };
            void act('top-up', body, t('work.top-up')).then(() => setFresh(''));
          }}
        >
          <Amount label={t('work.grams-fresh')} most={MOST_GRAMS} value={fresh} onInput={setFresh} />
          <LotChoice lots={lots} wax={charge.wax.id} value={freshLot} onChange={setFreshLot} />
          <button type="submit" class="act" data-first="true" disabled={busy || !(Number(fresh) > 0)}>
            {t('work.top-up')}
          </button>
        </form>
      )}
      <button
        type="button"
        class="act"
        disabled={busy}
        onClick={() => void act('cleaned', {}, t('work.cleaned'))}
      >
        {t('work.cleaned')}
      </button>
      <form
        class="work-form"
        onSubmit={(event) => {
          event.preventDefault();
          const body = { wax, grams: Number(grams), at: doneNow(), ...named(lot, wax) };
          void act('charge', body, t('work.charge-change'));
        }}
      >
        <h2>{t('work.charge-change')}</h2>
        <p class="dim">{t('work.charge-explain')}</p>
        <Choice
          label={t('station.wax')}
          value={wax}
          options={WAX_CLASS_IDS.map((wax) => [wax, word('wax', wax)])}
          onChange={setWax}
        />
        <LotChoice lots={lots} wax={wax} value={lot} onChange={setLot} />
        <Amount label={t('work.grams')} most={MOST_GRAMS} value={grams} onInput={setGrams} />
        <button type="submit" class="act" disabled={busy || !(Number(grams) > 0)}>
          {t('work.charge-change')}
        </button>
      </form>
    </>
  );
};

const Loads = ({ busy, act }: PartProps) => {
  const id = useId();
  const [load, setLoad] = useState('');
  return (
    <form
      class="work-form"
      onSubmit={(event) => {
        event.preventDefault();
        void act('load-in', { load: load.trim() }, t('work.load-in')).then(() => setLoad(''));
      }}
    >
      <p class="field">
        <label for={id}>{t('work.load')}</label>
        <input
          id={id}
          value={load}
          required
          maxLength={60}
          onInput={(event) => setLoad(event.currentTarget.value)}
        />
      </p>
      <p class="row">
        <button type="submit" class="act" data-first="true" disabled={busy || load.trim() === ''}>
          {t('work.load-in')}
        </button>
        <button
          type="button"
          class="act"
          disabled={busy}
          onClick={() => void act('load-out', {}, t('work.load-out'))}
        >
          {t('work.load-out')}
        </button>
      </p>
    </form>
  );
};

const Loaded = ({ station }: { readonly station: StationView }) => {
  const { value, trouble } = useLoaded<readonly ChargeView[]>(
    `/api/charges?station=${encodeURIComponent(station.id)}`,
  );
  const { act: doAct, busy, refusal, isKept } = useAct();
  const open = openAlarms.value.filter((alarm) => alarm.station === station.id).sort(byUrgency);
  const charge = value?.find(({ endedAt }) => endedAt === null) ?? null;
  const act: Act = async (verb, body, what) => {
    await doAct(`/api/stations/${encodeURIComponent(station.id)}/${verb}`, body, `${station.name}: ${what}`);
  };
  useSignalEffect(() => {
    document.title = t('work.station-work', { station: station.name });
  });
  const { holdsMeltedWax, surroundings } = STATION_KIND_FACTS[station.kind];
  // What can be done hangs on the charge; without a network it can be done all the same.
  const isRead = value !== null || trouble !== null;
  return (
    <>
      <StationHead station={station} withTrend />
      {open.length > 0 && (
        <ul class="station-alarms">
          {open.map((alarm) => (
            <AlarmCard key={alarm.id} alarm={alarm} heading="h2" />
          ))}
        </ul>
      )}
      <p>
        <a href={`/station/${encodeURIComponent(station.id)}`}>{t('chart.title')}</a>
      </p>
      <WaitingActs />
      {open.every((alarm) => alarm.caution === '') && <KindCaution kind={station.kind} ceiling={null} />}
      {isRead && mayDo('tend-stations') && (
        <section class="work-acts no-print">
          {holdsMeltedWax ? (
            <Pot key={charge?.id} station={station} charge={charge} busy={busy} act={act} />
          ) : (
            surroundings !== null && <Loads busy={busy} act={act} />
          )}
          <ActAnswer refusal={refusal} isKept={isKept} />
        </section>
      )}
      <Intents station={station} />
      {charge !== null && <ChargeCard key={charge.id} charge={charge} link={false} />}
      {isRead && (
        <>
          <PrintLabel />
          <Label
            path={`/s/${station.id}`}
            title={station.name}
            lines={[word('kind', station.kind), station.id]}
          />
        </>
      )}
    </>
  );
};

export default function StationWork() {
  const { params } = useRoute();
  const shown = useComputed(
    () => stations.value.find((station) => station.peek().id === params.station)?.value,
  );
  if (shown.value === undefined) return loaded.value ? <h1>{t('station.unknown')}</h1> : <WaitingActs />;
  return (
    <div class="work work-narrow has-label">
      <Loaded key={shown.value.id} station={shown.value} />
    </div>
  );
}
