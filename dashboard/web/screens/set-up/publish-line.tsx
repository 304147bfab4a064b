// The line by which a first reading is sent, with the address, port and user that this lab's broker really has.

import type { BrokerEndpointView } from '../../../api/lab-bodies.ts';
import { t } from '../../base/messages.ts';
import { health } from '../../live/lab-state.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { Refusal } from '../../forms/saving.tsx';

const DEFAULT_PORT = 1883;

const publishLine = (site: string, door: BrokerEndpointView, here: string): string =>
  [
    'mosquitto_pub',
    `-h ${door.host ?? here}`,
    ...(door.tls ? ['--cafile authority.pem'] : []),
    ...(door.port === DEFAULT_PORT ? [] : [`-p ${door.port}`]),
    ...(door.user === null ? [] : [`-u ${door.user} -P PASSWORD`]),
    '-q 1',
    `-t wax/${site}/bench/pot-1/celsius`,
    '-m 72.4',
  ].join(' ');

export const PublishLine = () => {
  const door = useLoaded<BrokerEndpointView>('/api/broker-endpoint');
  return (
    <>
      <Refusal trouble={door.trouble} retry={door.reload} />
      {door.value && (
        <>
          <p>{t('probe.try')}</p>
          <pre>
            <code>{publishLine(health.value?.site ?? 'lab', door.value, location.hostname)}</code>
          </pre>
          {door.value.user !== null && (
            <p class="dim">{t(door.value.own ? 'probe.password-own' : 'probe.password-other')}</p>
          )}
        </>
      )}
    </>
  );
};
