// What a person does at a place, opened by the code on it: top up, fill anew, clean; load in, load out.

import { useComputed } from '@preact/signals';
import { useRoute } from 'preact-iso';
import { useEffect, useState } from 'preact/hooks';
import { STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { ChargeView } from '../../../api/charges.ts';
import type { LotView } from '../../../api/lots.ts';
import type { StationView } from '../../../api/schemas.ts';
import { ActButton } from '../../base/act-button.tsx';
import { t, word } from '../../base/messages.ts';
import { whenIdle } from '../../base/when-idle.ts';
import { mayDo } from '../../live/session.ts';
import { loaded, now, openAlarms } from '../../live/lab-state.ts';
import { byUrgency, isSuppressed } from '../../base/face.ts';
import { StationAlarmCards } from '../common/alarm/alarm-cards.tsx';
import { Intents } from '../common/bench/intents.tsx';
import { KindCaution } from '../common/station/kind-caution.tsx';
import { StationHead } from '../common/station/station-head.tsx';
import { ActAnswer } from '../../forms/act-answer.tsx';
import type { Saving } from '../../forms/saving.tsx';
import { ChoiceField, NumberField, TextField } from '../../forms/schema-fields.tsx';
import { LoadNow } from './load-now.tsx';
import { LotChoice, useLots } from './lot-choice.tsx';
import { Label, PrintLabel } from './label.tsx';
import { useLoaded } from '../../live/use-loaded.ts';
import { useAct } from '../../forms/use-act.ts';
import { WaitingActs } from '../../forms/waiting-acts.tsx';
import '../../forms/work.css';
import { submitWith } from '../../forms/submit-with.ts';
import { useTitle } from '../../base/use-title.ts';
import { stationOf } from '../../live/lab-stations.ts';

type Act = (verb: string, body: object, what: string) => Promise<void>;
interface PartProps extends Pick<Saving, 'errorAt'> {
  readonly busy: boolean;
  readonly act: Act;
}

/** What waits for a network is sent later, and is to count from when it was done. */
const instantNow = (): string => new Date(now.peek()).toISOString();

const Pot = ({
  station,
  charge,
  lots,
  busy,
  act,
  errorAt,
}: PartProps & { station: StationView; charge: ChargeView | null; lots: readonly LotView[] }) => {
  const [fresh, setFresh] = useState<number | null>(null);
  const [grams, setGrams] = useState<number | null>(station.chargeGrams ?? null);
  const [wax, setWax] = useState<string>(station.wax?.id ?? 'inlay-type-2');
  const topUpForm = { fields: FORM_FIELDS['top-up'], saving: { errorAt } };
  const chargeForm = { fields: FORM_FIELDS.charge, saving: { errorAt } };
  const [freshLot, setFreshLot] = useState(charge?.lots[0]?.lot ?? '');
  const [lot, setLot] = useState('');
  const named = (id: string, ofWax: string | undefined): { lot?: string } =>
    lots.some((each) => each.id === id && each.wax.id === ofWax) ? { lot: id } : {};
  return (
    <>
      {charge !== null && (
        <form
          class="work-form"
          onSubmit={submitWith(() => {
            const body = { grams: fresh, at: instantNow(), ...named(freshLot, charge.wax.id) };
            void act('top-up', body, t('work.top-up')).then(() => setFresh(null));
          })}
        >
          <NumberField
            form={topUpForm}
            at="grams"
            label="work.grams-fresh"
            value={fresh}
            onChange={setFresh}
          />
          <LotChoice
            error={topUpForm.saving.errorAt('lot')?.detail ?? null}
            lots={lots}
            wax={charge.wax.id}
            value={freshLot}
            onChange={setFreshLot}
          />
          <ActButton text={t('work.top-up')} isFirst disabled={busy || fresh === null} />
        </form>
      )}
      <ActButton
        text={t('work.cleaned')}
        disabled={busy}
        onClick={() => void act('cleaned', {}, t('work.cleaned'))}
      />
      <form
        class="work-form"
        onSubmit={submitWith(() => {
          const body = { wax, grams, at: instantNow(), ...named(lot, wax) };
          void act('charge', body, t('work.charge-change'));
        })}
      >
        <h2>{t('work.charge-change')}</h2>
        <p class="dim">{t('work.charge-explain')}</p>
        <ChoiceField
          form={chargeForm}
          at="wax"
          label="station.wax"
          words="wax"
          value={wax}
          onChange={setWax}
        />
        <LotChoice
          error={chargeForm.saving.errorAt('lot')?.detail ?? null}
          lots={lots}
          wax={wax}
          value={lot}
          onChange={setLot}
        />
        <NumberField form={chargeForm} at="grams" label="work.grams" value={grams} onChange={setGrams} />
        <ActButton text={t('work.charge-change')} disabled={busy || grams === null} />
      </form>
    </>
  );
};

const Loads = ({ busy, act, errorAt }: PartProps) => {
  const form = { fields: FORM_FIELDS.load, saving: { errorAt } };
  const [load, setLoad] = useState('');
  return (
    <form
      class="work-form"
      onSubmit={submitWith(
        () => void act('load-in', { load: load.trim() }, t('work.load-in')).then(() => setLoad('')),
      )}
    >
      <TextField form={form} at="load" label="work.load" value={load} onChange={setLoad} />
      <p class="row">
        <ActButton text={t('work.load-in')} isFirst disabled={busy || load.trim() === ''} />
        <ActButton
          text={t('work.load-out')}
          disabled={busy}
          onClick={() => void act('load-out', {}, t('work.load-out'))}
        />
      </p>
    </form>
  );
};

type Card = typeof import('./charge-card.tsx').ChargeCard;

/** What can be done is above it and is there first. */
const ChargePlace = (props: { readonly charge: ChargeView; readonly lots: readonly LotView[] }) => {
  const [card, setCard] = useState<{ readonly drawing: Card } | 'absent' | null>(null);
  useEffect(() => {
    whenIdle(() => {
      import('./charge-card.tsx').then(
        // Loading it is one piece of work and drawing another, so that a tap between them is answered.
        ({ ChargeCard: drawing }) => whenIdle(() => setCard({ drawing })),
        () => setCard('absent'),
      );
    });
  }, []);
  return (
    <div class="charge-place" data-coming={card === null}>
      {card === 'absent' && <p role="status">{t('work.dose-absent')}</p>}
      {card !== null && card !== 'absent' && <card.drawing {...props} link={false} />}
    </div>
  );
};

const Loaded = ({ station }: { readonly station: StationView }) => {
  const { value, trouble } = useLoaded<readonly ChargeView[]>(
    `/api/charges?station=${encodeURIComponent(station.id)}`,
  );
  const { holdsMeltedWax, surroundings } = STATION_KIND_FACTS[station.kind];
  const lots = useLots(holdsMeltedWax);
  const { act: doAct, busy, refusal, isKept, errorAt } = useAct();
  const open = openAlarms.value.filter((alarm) => alarm.station === station.id).sort(byUrgency);
  const charge = value?.find(({ endedAt }) => endedAt === null) ?? null;
  const act: Act = async (verb, body, what) => {
    await doAct(`/api/stations/${encodeURIComponent(station.id)}/${verb}`, body, `${station.name}: ${what}`);
  };
  useTitle(() => t('work.station-work', { station: station.name }));
  // What can be done hangs on the charge, and what is below it would be pushed away; without a network it can be done
  // all the same.
  const isRead = value !== null || trouble !== null;
  return (
    <>
      <StationHead station={station} withTrend />
      <StationAlarmCards alarms={open} />
      <p>
        <a class="way" href={`/station/${encodeURIComponent(station.id)}`}>
          {t('chart.title')}
        </a>
      </p>
      <WaitingActs />
      {open.every((alarm) => alarm.caution === '' || isSuppressed(alarm)) && (
        <KindCaution kind={station.kind} />
      )}
      {station.load !== undefined && station.load !== null && <LoadNow load={station.load} />}
      <Intents station={station} />
      {isRead && mayDo('tend-stations') && (
        <section class="work-acts no-print">
          {holdsMeltedWax ? (
            <Pot
              key={charge?.id}
              station={station}
              charge={charge}
              lots={lots}
              busy={busy}
              act={act}
              errorAt={errorAt}
            />
          ) : (
            surroundings !== null && <Loads busy={busy} act={act} errorAt={errorAt} />
          )}
          <ActAnswer refusal={refusal} isKept={isKept} />
        </section>
      )}
      {charge !== null && <ChargePlace key={charge.id} charge={charge} lots={lots} />}
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
  const shown = useComputed(() => stationOf(params.station));
  if (shown.value === undefined) return loaded.value ? <h1>{t('station.unknown')}</h1> : <WaitingActs />;
  return (
    <div class="work work-narrow has-label">
      <Loaded key={shown.value.id} station={shown.value} />
    </div>
  );
}
