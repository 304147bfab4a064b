// The intake with the broker of the settings: the own one, with its login and certificate, or the lab's.

import { join } from 'node:path';
import type { GatewayAccount } from '../../collector/intake/broker-access.ts';
import { type BrokerLogin, brokerLogin } from '../../collector/intake/broker-login.ts';
import type { BrokerCertificate, Intake } from '../../collector/intake/intake.ts';
import { startIntake } from '../../collector/intake/start-intake.ts';
import { isLoopback } from '../../dashboard/loopback.ts';
import { replacedFile } from '../console/console-words.ts';
import type { LabData } from '../data/lab-data.ts';
import type { ProcessSettings } from '../settings/settings.ts';

/** Gateways sign in wherever others than this machine can reach the embedded broker. */
export const loginOf = ({ broker, data, host }: ProcessSettings): BrokerLogin | null =>
  broker.kind === 'embedded' && !isLoopback(host)
    ? brokerLogin(join(data, 'broker-login.json'), (setAside) =>
        console.warn(replacedFile('broker-login.json', setAside, 'Give every gateway the new password.')),
      )
    : null;

export const openIntake = (
  { broker, data, host, journalSyncSeconds }: ProcessSettings,
  { journalFolder, mappings, repository, store }: LabData,
  login: BrokerLogin | null,
  accounts: readonly GatewayAccount[],
  certificate: BrokerCertificate | null,
): Promise<Intake> =>
  startIntake({
    site: repository.lab().site.id,
    journalFolder,
    mappings: mappings.all(),
    appliedOffset: store.keepFrom(),
    journalSyncMillis: 1000 * journalSyncSeconds,
    broker:
      broker.kind === 'embedded'
        ? {
            kind: 'embedded',
            host,
            port: broker.port,
            login,
            accounts,
            sessionsFile: join(data, 'sessions.db'),
            ...(broker.tls && certificate !== null && { tls: certificate }),
          }
        : broker,
  });
