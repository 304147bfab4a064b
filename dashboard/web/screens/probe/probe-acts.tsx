// What is done with a probe that is broken or no longer used: another takes its place, it is retired, or forgotten.

import { useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import type { ProbeView } from '../../../api/schemas.ts';
import { ActButton } from '../../base/act-button.tsx';
import { asRead, sendRemoval, send } from '../../base/api.ts';
import { t } from '../../base/messages.ts';
import { ChoiceEntry } from '../../forms/entries.tsx';
import { Refusal, type Saving, useSaving } from '../../forms/saving.tsx';
import { inTurn, noteDone } from '../../forms/undo.tsx';
import { now, probes, timeZone } from '../../live/lab-state.ts';
import { labChanged, useLab } from '../../live/use-loaded.ts';
import { type DescribedProbe, describeProbe, probeBody, probePath } from '../set-up/probe-body.ts';
import { putProbe } from '../set-up/put-probe.ts';
import { submitWith } from '../../forms/submit-with.ts';

interface ActProps {
  readonly probe: DescribedProbe;
  readonly version: number;
  readonly saving: Saving;
}

/** `YYYY-MM-DD` in the lab's zone. */
const today = (): string =>
  new Intl.DateTimeFormat('en-CA', { timeZone: timeZone.value, dateStyle: 'short' }).format(now.peek());

const Replacement = ({
  probe,
  version,
  saving,
  labProbes,
}: ActProps & { readonly labProbes: readonly DescribedProbe[] }) => {
  const free = probes.value.filter(({ claimed, retired }) => !claimed && !retired);
  const [chosen, setChosen] = useState('');
  const by = free.find(({ id }) => id === chosen) ?? free[0];
  if (by === undefined) return <p>{t('probe-page.no-spare')}</p>;
  const before = describeProbe(labProbes, by);
  const replace = (): void =>
    void saving.run(
      () => send(`${probePath(probe.id)}/replacement`, { by: by.id }, asRead(version)),
      () => {
        labChanged();
        noteDone(t('probe-page.replaced', { probe: probe.id, by: by.id }), () => {
          const { station: _, ...spare } = probeBody(before);
          return inTurn([
            () => putProbe(before, version, labProbes.includes(before) ? spare : {}),
            () => putProbe(probe, version),
          ]);
        });
      },
    );
  return (
    <form onSubmit={submitWith(replace)}>
      <p class="dim">{t('probe-page.replace-explain')}</p>
      <ChoiceEntry
        label="probe-page.replace-by"
        value={by.id}
        options={free.map(({ id, gateway }) => [id, `${id} · ${gateway}`] as const)}
        onChange={setChosen}
      />
      <p class="row">
        <ActButton text={t('probe-page.replace')} disabled={saving.busy} />
      </p>
    </form>
  );
};

const Retirement = ({ probe, version, saving }: ActProps) => {
  const { station: _, retiredOn, ...rest } = probeBody(probe);
  const isRetired = retiredOn !== undefined;
  const save = (): void =>
    void saving.run(
      () => putProbe(probe, version, isRetired ? rest : { ...rest, retiredOn: today() }),
      () => {
        labChanged();
        noteDone(
          t(isRetired ? 'probe-page.used-again' : 'probe-page.retired-done', { probe: probe.id }),
          () => putProbe(probe, version),
        );
      },
    );
  return (
    <ActButton
      text={t(isRetired ? 'probe-page.use-again' : 'probe-page.retire')}
      disabled={saving.busy}
      onClick={save}
    />
  );
};

const Forgetting = ({ probe, version, saving }: ActProps) => {
  const { route } = useLocation();
  const forget = (): void =>
    void saving.run(
      () => sendRemoval(probePath(probe.id), asRead(version)),
      () => {
        labChanged();
        route('/probes');
      },
    );
  return <ActButton text={t('probe-page.forget')} disabled={saving.busy} onClick={forget} />;
};

export const ProbeActs = ({ probe }: { readonly probe: ProbeView }) => {
  const lab = useLab();
  const saving = useSaving();
  const labProbes = lab.value?.probes ?? [];
  if (lab.value === null) return null;
  const act: ActProps = { probe: describeProbe(labProbes, probe), version: lab.value.version, saving };
  return (
    <section>
      <h2>{t('probe-page.acts')}</h2>
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      {probe.claimed && <Replacement {...act} labProbes={labProbes} />}
      <p class="dim">{t('probe-page.retire-explain')}</p>
      <p class="row">
        <Retirement {...act} />
        {!probe.claimed && <Forgetting {...act} />}
      </p>
    </section>
  );
};
