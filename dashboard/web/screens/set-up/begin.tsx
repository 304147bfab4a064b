// From an empty lab to the first live station: the lab, a probe that is seen, its station, the people, the wall.
// Every step can be left and taken up again; what is saved is saved.

import { useSignalEffect } from '@preact/signals';
import { useEffect, useRef, useState } from 'preact/hooks';
import { put } from '../../base/api.ts';
import { formatAge, formatTemperature } from '../../base/format.ts';
import { type MessageKey, t } from '../../base/messages.ts';
import { go, query } from '../../base/router.ts';
import { mayDo } from '../../live/session.ts';
import { now, probes, reader, stations } from '../../live/lab-state.ts';
import { AddPerson } from '../people/add-person.tsx';
import { labChanged, useLab } from '../../live/use-loaded.ts';
import { type DescribedProbe, probeBody } from './probe-body.ts';
import { PublishLine } from './publish-line.tsx';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { firstSite, SiteForm } from './site-form.tsx';
import { StationForm } from './station-form.tsx';
import '../../forms/set-up.css';

const STEPS = ['lab', 'probe', 'station', 'people', 'done'] as const;
type Step = (typeof STEPS)[number];
const TITLES: Readonly<Record<Step, MessageKey>> = {
  lab: 'begin.lab',
  probe: 'begin.probe',
  station: 'begin.station',
  people: 'begin.people',
  done: 'begin.done',
};

const goTo = (step: Step): void => go(`/begin?step=${step}`);

const SeenProbes = (props: { readonly chosen: string | null; readonly onChoose: (id: string) => void }) => {
  const free = probes.value.filter((probe) => !probe.claimed);
  return (
    <>
      {free.length > 0 && (
        <fieldset>
          <legend>{t('begin.seen')}</legend>
          {free.map((probe) => (
            <label class="seen-probe" key={probe.id}>
              <input
                type="radio"
                name="probe"
                checked={props.chosen === probe.id}
                onChange={() => props.onChoose(probe.id)}
              />
              <span>
                <strong>{probe.id}</strong> <span class="dim">{probe.gateway}</span>
              </span>
              <span>
                <strong>
                  {probe.celsius === null ? '–' : formatTemperature(probe.celsius, reader.value)}
                </strong>{' '}
                <span class="dim">
                  {probe.at === null
                    ? t('station.never')
                    : formatAge((now.value - Date.parse(probe.at)) / 1000, reader.value)}
                </span>
              </span>
            </label>
          ))}
          <p class="dim">{t('begin.warm')}</p>
        </fieldset>
      )}
      <div class="plate">
        {free.length === 0 && <p role="status">{t('begin.waits')}</p>}
        <PublishLine />
        <p>
          <a href="/quarantine">{t('home.quarantine')}</a>
        </p>
      </div>
    </>
  );
};

/** The station that has just been made shows its first live value here, before anyone walks to the wall. */
const FirstValue = () => {
  const measured = stations.value.map((one) => one.value).filter((one) => one.celsius !== null);
  return (
    <ul class="figures-shown" aria-live="polite">
      {measured.map((station) => (
        <li key={station.id}>
          {station.name}{' '}
          <strong>{station.celsius === null ? '–' : formatTemperature(station.celsius, reader.value)}</strong>
        </li>
      ))}
    </ul>
  );
};

const Continue = (props: { readonly to: Step; readonly disabled?: boolean; readonly first?: boolean }) => (
  <button
    type="button"
    class="act"
    data-first={props.first !== false}
    disabled={props.disabled === true}
    onClick={() => goTo(props.to)}
  >
    {t(props.first === false ? 'begin.later' : 'begin.on')}
  </button>
);

export default function Begin() {
  const asked = query.value.get('step');
  const lab = useLab();
  const claiming = useSaving();
  const heading = useRef<HTMLHeadingElement>(null);
  const [chosen, setChosen] = useState<string | null>(null);
  const step: Step = STEPS.find((one) => one === asked) ?? 'lab';
  useSignalEffect(() => {
    document.title = t('begin.title');
  });
  useEffect(() => {
    if (asked !== null) heading.current?.focus();
  }, [asked]);
  const free = probes.value.filter((probe) => !probe.claimed);
  const probe = free.find(({ id }) => id === chosen) ?? (free.length === 1 ? free[0] : undefined);
  const claim = (station: string): void => {
    if (probe === undefined) {
      goTo('people');
      return;
    }
    const known: DescribedProbe = lab.value?.probes.find(({ id }) => id === probe.id) ?? {
      id: probe.id,
      gateway: probe.gateway,
    };
    void claiming.run(
      () => put(`/api/probes/${probe.id}`, { ...probeBody(known), station }),
      () => {
        labChanged();
        goTo(mayDo('manage-people') ? 'people' : 'done');
      },
    );
  };
  if (!mayDo('set-up-lab'))
    return (
      <div class="set-up">
        <h1>{t('begin.title')}</h1>
        <p class="refusal">{t('set-up.not-allowed')}</p>
      </div>
    );
  return (
    <div class="set-up">
      <h1>{t('begin.title')}</h1>
      <ol class="steps">
        {STEPS.map((one, index) => (
          <li key={one}>
            <a href={`/begin?step=${one}`} aria-current={one === step ? 'step' : undefined}>
              {t('begin.step', { number: index + 1, name: t(TITLES[one]) })}
            </a>
          </li>
        ))}
      </ol>
      <h2 ref={heading} tabIndex={-1}>
        {t(TITLES[step])}
      </h2>
      <Refusal trouble={lab.trouble} retry={lab.reload} />
      {step === 'lab' && lab.value && (
        <>
          <p>{t('begin.lab-explain')}</p>
          <SiteForm
            site={lab.value.isEmpty ? firstSite(lab.value.site) : lab.value.site}
            save="begin.on"
            onSaved={() => goTo('probe')}
          />
        </>
      )}
      {step === 'probe' && (
        <>
          <p>{t('begin.probe-explain')}</p>
          <SeenProbes chosen={probe?.id ?? null} onChoose={setChosen} />
          <p class="row">
            <Continue to="station" disabled={probe === undefined} />
            {probe === undefined && <Continue to="station" first={false} />}
          </p>
        </>
      )}
      {step === 'station' && lab.value && (
        <>
          <p>{probe === undefined ? t('begin.no-probe') : t('begin.station-explain', { probe: probe.id })}</p>
          <Refusal trouble={claiming.refusal} retry={claiming.retry} />
          <StationForm
            station={null}
            taken={lab.value.stations.map(({ id }) => id)}
            save="begin.on"
            onSaved={claim}
          />
        </>
      )}
      {step === 'people' && (
        <>
          <p>{t('begin.people-explain')}</p>
          <AddPerson onAdded={() => {}} />
          <p>
            <Continue to="done" />
          </p>
        </>
      )}
      {step === 'done' && (
        <>
          <p>{t('begin.done-explain')}</p>
          <FirstValue />
          <p class="row">
            <a class="act" data-first="true" href="/wall">
              {t('begin.wall')}
            </a>
            <a class="act" href="/begin?step=probe">
              {t('begin.another')}
            </a>
            <a class="act" href="/set-up/keys">
              {t('ways.keys')}
            </a>
          </p>
        </>
      )}
    </div>
  );
}
