// A test of each route of the saved plan, with what became of it beside its button.

import { useState } from 'preact/hooks';
import type { Static } from 'typebox';
import type {
  NotificationPlanView,
  RouteTestBody,
  RouteTestView,
} from '../../../../api/notification-plan.ts';
import type { OutboxView } from '../../../../api/outbox.ts';
import { ActButton } from '../../../base/act-button.tsx';
import { send } from '../../../base/api.ts';
import { t, word } from '../../../base/messages.ts';
import { Refusal, useSaving } from '../../../forms/saving.tsx';
import { useLoaded } from '../../../live/use-loaded.ts';
import { SendAnswer } from '../../common/alarm/send-answer.tsx';
import { Secret } from './machine-parts.tsx';

type Row = Static<typeof OutboxView>['rows'][number];

interface Route extends RouteTestBody {
  readonly name: string;
}

const REFRESH_MILLIS = 1500;

const routesOf = ({ plan, mailIsSetUp }: NotificationPlanView): readonly Route[] => [
  ...(mailIsSetUp ? [{ channel: 'mail', address: '', name: t('notification-plan.test-mail') } as const] : []),
  ...plan.webhooks.map(({ id, name }) => ({ channel: 'webhook', address: id, name }) as const),
  ...plan.lampTopics.map((topic) => ({ channel: 'lamp', address: topic, name: topic }) as const),
  { channel: 'mqtt', address: '', name: t('notification-plan.test-mqtt') },
];

const Outcome = ({ row }: { readonly row: Row | undefined }) =>
  row === undefined ? null : (
    <>
      {word('outbox-state', row.state)}
      {row.answer !== null && (
        <>
          {': '}
          <SendAnswer answer={row.answer} />
        </>
      )}
    </>
  );

export const RouteTest = ({ route }: { readonly route: Route }) => {
  const { channel, address, name } = route;
  const saving = useSaving();
  const [number, setNumber] = useState<number | null>(null);
  const outbox = useLoaded<Static<typeof OutboxView>>(number === null ? null : '/api/outbox?limit=500', {
    everyMillis: REFRESH_MILLIS,
  });
  const test = (): void =>
    void saving.run(
      () => send<Static<typeof RouteTestView>>('/api/notification-plan/test', { channel, address }),
      (made) => setNumber(made.number),
    );
  return (
    <li>
      <p class="row">
        <span>
          {name} <span class="dim">{`· ${word('outbox-channel', channel)}`}</span>
        </span>
        <ActButton text={t('notification-plan.test-send')} disabled={saving.busy} onClick={test} />
        <span role="status">
          <Outcome row={outbox.value?.rows.find((row) => row.number === number)} />
        </span>
      </p>
      <Refusal trouble={saving.refusal ?? outbox.trouble} retry={saving.retry} />
    </li>
  );
};

export const RouteTests = ({ view }: { readonly view: NotificationPlanView }) => (
  <section class="card">
    <h2>{t('notification-plan.tests')}</h2>
    <p class="dim">{t('notification-plan.tests-hint')}</p>
    <ul>
      {routesOf(view).map((route) => (
        <RouteTest key={`${route.channel} ${route.address}`} route={route} />
      ))}
    </ul>
    {view.changeSecret !== null && (
      <Secret secret={view.changeSecret} legend="notification-plan.change-secret" />
    )}
  </section>
);
