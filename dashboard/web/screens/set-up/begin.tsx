// From an empty lab to the first live station: the lab, a probe that is seen, its station, the people, the wall.
// Every step can be left and taken up again; what is saved is saved.

import { useSignalEffect } from '@preact/signals';
import { useLocation } from 'preact-iso';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { LabView } from '../../../api/lab-bodies.ts';
import type { ProbeView } from '../../../api/schemas.ts';
import { put } from '../../base/api.ts';
import { formatTemperature } from '../../base/format.ts';
import { type MessageKey, t } from '../../base/messages.ts';
import { mayDo } from '../../live/session.ts';
import { probes, reader, stations } from '../../live/lab-state.ts';
import { AddPerson } from '../people/add-person.tsx';
import { labChanged, useLab } from '../../live/use-loaded.ts';
import { type DescribedProbe, probeBody } from './probe-body.ts';
import { SeenProbes } from './seen-probes.tsx';
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

/** The station that has just been made shows its first live value here, before anyone walks to the wall. */
const FirstValue = () => {
  const measured = stations.value.map(({ value }) => value).filter(({ celsius }) => celsius !== null);
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

const addressOf = (step: Step): string => `/begin?step=${step}`;

/** Leads on to the next step; `isSkip`: leaves this one for later. */
const Continue = (props: { readonly to: Step; readonly disabled?: boolean; readonly isSkip?: boolean }) => {
  const { route } = useLocation();
  const { isSkip = false } = props;
  return (
    <button
      type="button"
      class="act"
      data-first={!isSkip}
      disabled={props.disabled === true}
      onClick={() => route(addressOf(props.to))}
    >
      {t(isSkip ? 'begin.later' : 'begin.on')}
    </button>
  );
};

const LabStep = ({ lab }: { readonly lab: LabView }) => {
  const { route } = useLocation();
  return (
    <>
      <p>{t('begin.lab-explain')}</p>
      <SiteForm
        site={lab.isEmpty ? firstSite(lab.site) : lab.site}
        save="begin.on"
        onSaved={() => route(addressOf('probe'))}
      />
    </>
  );
};

const ProbeStep = ({
  probe,
  onChoose,
}: {
  readonly probe: ProbeView | undefined;
  readonly onChoose: (id: string) => void;
}) => (
  <>
    <p>{t('begin.probe-explain')}</p>
    <SeenProbes chosen={probe?.id ?? null} onChoose={onChoose} />
    <p class="row">
      <Continue to="station" disabled={probe === undefined} />
      {probe === undefined && <Continue to="station" isSkip />}
    </p>
  </>
);

const StationStep = ({ lab, probe }: { readonly lab: LabView; readonly probe: ProbeView | undefined }) => {
  const { route } = useLocation();
  const claiming = useSaving();
  const claim = (station: string): void => {
    if (probe === undefined) {
      route(addressOf('people'));
      return;
    }
    const described: DescribedProbe = lab.probes.find(({ id }) => id === probe.id) ?? {
      id: probe.id,
      gateway: probe.gateway,
    };
    void claiming.run(
      () => put(`/api/probes/${probe.id}`, { ...probeBody(described), station }),
      () => {
        labChanged();
        route(addressOf(mayDo('manage-people') ? 'people' : 'done'));
      },
    );
  };
  return (
    <>
      <p>{probe === undefined ? t('begin.no-probe') : t('begin.station-explain', { probe: probe.id })}</p>
      <Refusal trouble={claiming.refusal} retry={claiming.retry} />
      <StationForm station={null} taken={lab.stations.map(({ id }) => id)} save="begin.on" onSaved={claim} />
    </>
  );
};

const PeopleStep = () => (
  <>
    <p>{t('begin.people-explain')}</p>
    <AddPerson onAdded={() => {}} />
    <p>
      <Continue to="done" />
    </p>
  </>
);

const DoneStep = () => (
  <>
    <p>{t('begin.done-explain')}</p>
    <FirstValue />
    <p class="row">
      <a class="act" data-first="true" href="/wall">
        {t('begin.wall')}
      </a>
      <a class="act" href={addressOf('probe')}>
        {t('begin.another')}
      </a>
      <a class="act" href="/set-up/keys">
        {t('ways.keys')}
      </a>
    </p>
  </>
);

const Steps = ({ step }: { readonly step: Step }) => (
  <ol class="steps">
    {STEPS.map((name, index) => (
      <li key={name}>
        <a href={addressOf(name)} aria-current={name === step ? 'step' : undefined}>
          {t('begin.step', { number: index + 1, name: t(TITLES[name]) })}
        </a>
      </li>
    ))}
  </ol>
);

export default function Begin() {
  const { query } = useLocation();
  const lab = useLab();
  const heading = useRef<HTMLHeadingElement>(null);
  const [chosen, setChosen] = useState<string | null>(null);
  const step: Step = STEPS.find((name) => name === query.step) ?? 'lab';
  useSignalEffect(() => {
    document.title = t('begin.title');
  });
  useEffect(() => {
    if (query.step !== undefined) heading.current?.focus();
  }, [query.step]);
  const free = probes.value.filter((probe) => !probe.claimed && !probe.retired);
  const probe = free.find(({ id }) => id === chosen) ?? (free.length === 1 ? free[0] : undefined);
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
      <Steps step={step} />
      <h2 ref={heading} tabIndex={-1}>
        {t(TITLES[step])}
      </h2>
      <Refusal trouble={lab.trouble} retry={lab.reload} />
      {step === 'lab' && lab.value && <LabStep lab={lab.value} />}
      {step === 'probe' && <ProbeStep probe={probe} onChoose={setChosen} />}
      {step === 'station' && lab.value && <StationStep lab={lab.value} probe={probe} />}
      {step === 'people' && <PeopleStep />}
      {step === 'done' && <DoneStep />}
    </div>
  );
}
