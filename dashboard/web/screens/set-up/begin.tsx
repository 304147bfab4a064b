// From an empty lab to the first live station: the lab, a probe that is seen, its station, the station live, then the phone
// and the people.
// Every step can be left and taken up again; what is saved is saved.

import { useLocation } from 'preact-iso';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { LabView } from '../../../api/lab-bodies.ts';
import { TEST_READING } from '../../../../lab/test-reading.ts';
import type { ProbeView, StationView } from '../../../api/schemas.ts';
import { ActButton } from '../../base/act-button.tsx';
import { type MessageKey, t } from '../../base/messages.ts';
import { mayDo } from '../../live/session.ts';
import { probes, stations } from '../../live/lab-state.ts';
import { LinkForOthers } from '../common/link-for-others.tsx';
import { StationRows } from '../common/station/station-row.tsx';
import { AddPerson } from '../people/add-person.tsx';
import { labChanged, useLab } from '../../live/use-loaded.ts';
import { describeProbe, probeBody } from './probe-body.ts';
import { putProbe } from './put-probe.ts';
import { SeenProbes } from './seen-probes.tsx';
import { OpenedForm } from '../../forms/opened-form.tsx';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { firstSite, SiteForm } from './site-form.tsx';
import { TestReading } from './test-reading.tsx';
import { StationForm } from './station-form.tsx';
import '../common/station/overview.css';
import '../../forms/set-up.css';
import { useTitle } from '../../base/use-title.ts';
import { ActLink } from '../../base/act-link.tsx';

const STEPS = ['lab', 'probe', 'station', 'live', 'phone', 'people'] as const;
type Step = (typeof STEPS)[number];
const TITLES: Readonly<Record<Step, MessageKey>> = {
  lab: 'begin.lab',
  probe: 'begin.probe',
  station: 'begin.station',
  live: 'begin.live',
  phone: 'begin.phone',
  people: 'begin.people',
};

const addressOf = (step: Step): string => `/begin?step=${step}`;

/** Leads on to the next step; `isSkip`: leaves this one for later. */
const Continue = (props: { readonly to: Step; readonly disabled?: boolean; readonly isSkip?: boolean }) => {
  const { route } = useLocation();
  const { isSkip = false } = props;
  return (
    <ActButton
      text={t(isSkip ? 'begin.later' : 'begin.on')}
      isFirst={!isSkip}
      disabled={props.disabled === true}
      onClick={() => route(addressOf(props.to))}
    />
  );
};

const LabStep = ({ lab }: { readonly lab: LabView }) => {
  const { route } = useLocation();
  return (
    <>
      <p>{t('begin.lab-explain')}</p>
      <OpenedForm newest={lab.version}>
        {({ version }) => (
          <SiteForm
            site={lab.isEmpty ? firstSite(lab.site) : lab.site}
            version={version}
            save="begin.on"
            isFirst={lab.isEmpty}
            onSaved={() => route(addressOf('probe'))}
          />
        )}
      </OpenedForm>
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
      route(addressOf('live'));
      return;
    }
    const described = describeProbe(lab.probes, probe);
    void claiming.run(
      () => putProbe(described, lab.version, { ...probeBody(described), station }),
      () => {
        labChanged();
        route(addressOf('live'));
      },
    );
  };
  return (
    <>
      <p>{probe === undefined ? t('begin.no-probe') : t('begin.station-explain', { probe: probe.id })}</p>
      <Refusal trouble={claiming.refusal} retry={claiming.retry} />
      <OpenedForm newest={lab.version}>
        {({ version }) => (
          <StationForm
            station={null}
            version={version}
            taken={lab.stations.map(({ id }) => id)}
            save="begin.on"
            onSaved={claim}
          />
        )}
      </OpenedForm>
    </>
  );
};

/** Whether some station has no other probe than the test's. */
const isTestOnly = ({ probes: own }: StationView): boolean =>
  own.length > 0 && own.every((id) => id === TEST_READING.probe);

/** What the lab sees now, before anyone walks to the wall. */
const LiveStep = () => {
  const tested = stations.value.find(({ value }) => isTestOnly(value))?.value;
  return (
    <>
      <p>{t('begin.live-explain')}</p>
      <StationRows aria-live="polite" />
      {tested !== undefined && (
        <div class="card">
          <p role="note">
            {t('begin.test-replace', { probe: TEST_READING.probe, station: tested.name })}{' '}
            <a href="/set-up/probes">{t('nav.probes')}</a>
          </p>
          <TestReading />
        </div>
      )}
      <p class="row">
        <Continue to="phone" />
        <ActLink href={addressOf('probe')} text="begin.another" />
      </p>
    </>
  );
};

const PhoneStep = () => (
  <>
    <p>{t('begin.phone-explain')}</p>
    <LinkForOthers path="/phone" />
    <p class="row">
      <Continue to="people" />
      <ActLink href="/phone" text="begin.phone-here" />
    </p>
  </>
);

const PeopleStep = () => (
  <>
    {mayDo('manage-people') && (
      // A part of its own: what was added is what comes next for whoever works by keyboard.
      <section>
        <p>{t('begin.people-explain')}</p>
        <AddPerson onAdded={() => {}} />
      </section>
    )}
    <p class="row">
      <ActLink href="/wall" text="begin.wall" isFirst />
      <ActLink href="/set-up/keys" text="ways.keys" />
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
  useTitle(() => t('begin.title'));
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
      {step === 'live' && <LiveStep />}
      {step === 'phone' && <PhoneStep />}
      {step === 'people' && <PeopleStep />}
    </div>
  );
}
