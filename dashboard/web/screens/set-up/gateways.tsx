// Gateways: which there are and their state, the sweeps of theirs that have not arrived, pairing by one command with
// one code, and forgetting the probes of one that is gone.

import type { BrokerEndpointView } from '../../../api/lab-bodies.ts';
import type { GatewayView, PairingCodeView } from '../../../api/gateways.ts';
import { useState } from 'preact/hooks';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import { ActButton } from '../../base/act-button.tsx';
import { sendRemoval, send } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatAge } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { Refusal, type Saving, SubmitRow, useSaving } from '../../forms/saving.tsx';
import { TextField } from '../../forms/schema-fields.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { useForm } from '../../forms/use-form.ts';
import { reader } from '../../live/lab-state.ts';
import { labChanged, useLoaded } from '../../live/use-loaded.ts';
import { submitWith } from '../../forms/submit-with.ts';
import { ageOf } from '../../live/probe-text.ts';
import { instantText } from '../../live/instant-text.ts';

const REFRESH_MILLIS = 10_000;
/** A clock that is set by the network is off by less. */
const WRONG_CLOCK_SECONDS = 30;

const stateText = ({ online, lastReadingAt }: GatewayView): string => {
  const last = ageOf(lastReadingAt);
  return online === false ? `${t('probes.gateway-offline')} · ${last}` : last;
};

const sweepText = ({ sweeps }: GatewayView): string => {
  if (sweeps === null) return t('gateways.not-numbered');
  return sweeps.missing === 0
    ? t('gateways.complete', { newest: sweeps.newest })
    : t('gateways.missing', { count: sweeps.missing, newest: sweeps.newest });
};

const clockText = ({ clockLag_seconds: lag }: GatewayView): string => {
  if (lag === null) return t('gateways.clock-unknown');
  if (Math.abs(lag) < WRONG_CLOCK_SECONDS) return t('gateways.clock-right');
  const by = formatAge(Math.abs(lag), reader.value);
  return t(lag > 0 ? 'gateways.clock-behind' : 'gateways.clock-ahead', { by });
};

const Acts = (props: {
  readonly gateway: GatewayView;
  readonly saving: Saving;
  readonly changed: () => void;
}) => {
  const { gateway, saving, changed } = props;
  const id = encodeURIComponent(gateway.gateway);
  const act = (path: string, text: string): void =>
    void saving.run(
      () => sendRemoval(path),
      () => {
        labChanged();
        changed();
        noteDone(text);
      },
    );
  if (gateway.unclaimed === 0 && gateway.pairedAt === null) return null;
  return (
    <span class="row">
      {gateway.unclaimed > 0 && (
        <ActButton
          text={t('gateways.forget', { count: gateway.unclaimed })}
          disabled={saving.busy}
          onClick={() =>
            act(
              `/api/gateways/${id}/unclaimed-probes`,
              t('gateways.forgotten', { count: gateway.unclaimed, gateway: gateway.gateway }),
            )
          }
        />
      )}
      {gateway.pairedAt !== null && (
        <ActButton
          text={t('gateways.unpair')}
          disabled={saving.busy}
          onClick={() => act(`/api/gateways/${id}`, t('gateways.unpaired', { gateway: gateway.gateway }))}
        />
      )}
    </span>
  );
};

const Pairing = () => {
  const { saving, draft, field } = useForm(FORM_FIELDS['pairing-code'], { gateway: '' });
  const [made, setMade] = useState<PairingCodeView | null>(null);
  return (
    <>
      <form
        onSubmit={submitWith(
          () => void saving.run(() => send<PairingCodeView>('/api/gateways', draft), setMade),
        )}
      >
        <p class="dim">{t('gateways.pair-explain')}</p>
        <TextField {...field('gateway')} label="probes.gateway" />
        <SubmitRow saving={saving} label="gateways.make-code" isFirst />
      </form>
      {made !== null && (
        <div class="card" role="status">
          <p>{t('gateways.run', { gateway: made.gateway })}</p>
          <pre>
            <code>{`waxwarden gateway pair ${location.origin} ${made.code} gateway.yaml`}</code>
          </pre>
          <p class="dim">{t('gateways.until', { at: instantText(made.expiresAt) })}</p>
        </div>
      )}
    </>
  );
};

export default function Gateways() {
  const gateways = useLoaded<readonly GatewayView[]>('/api/gateways', { everyMillis: REFRESH_MILLIS });
  const door = useLoaded<BrokerEndpointView>('/api/broker-endpoint');
  const saving = useSaving();
  const { value } = gateways;
  return (
    <SetUpPage heading="gateways.title" explain="gateways.explain" needs="set-up-lab">
      <Refusal trouble={gateways.trouble} retry={gateways.reload} />
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      {value !== null && (
        <DataTable
          none={t('gateways.none')}
          rows={value}
          keyOf={(gateway) => gateway.gateway}
          columns={{
            [t('probes.gateway')]: (gateway) => gateway.gateway,
            [t('probes.last')]: stateText,
            [t('nav.probes')]: { figures: (gateway) => gateway.probes },
            [t('gateways.sweeps')]: sweepText,
            [t('gateways.clock')]: clockText,
            [t('set-up.acts')]: (gateway) => (
              <Acts gateway={gateway} saving={saving} changed={gateways.reload} />
            ),
          }}
        />
      )}
      <section>
        <h2>{t('gateways.pair')}</h2>
        {door.value?.own === false ? <p>{t('gateways.own-alone')}</p> : <Pairing />}
      </section>
    </SetUpPage>
  );
}
