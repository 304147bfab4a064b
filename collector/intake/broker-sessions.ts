// Sessions at the embedded broker: opened before it listens, marked as their clients come and go, ended when their time is
// over. A file that cannot serve leaves the broker without sessions, since readings must come in all the same.

import type { Aedes } from 'aedes';
import { DatabaseRefusal } from '../../lab/database/database.ts';
import { type Problem, problem } from '../../wax/result.ts';
import { type BrokerPolicy, ownClientId } from './broker-policy.ts';
import type { BrokerEvents } from './broker-side.ts';
import { openSessions, type Persistence, type BrokerSessions } from './session-persistence.ts';

const EXPIRY_MILLIS = 3_600_000;

/** The broker must be listening to its clients through `aedes` alone yet: it has no store before. */
export async function brokerSessions(
  aedes: Aedes,
  site: string,
  file: string,
  events: BrokerEvents,
  policy: Pick<BrokerPolicy, 'loginOf' | 'hasGranted'>,
  logins: ReadonlySet<string>,
): Promise<BrokerSessions | null> {
  const broker = aedes as unknown as { persistence: Persistence };
  const lost = (id: string | null, lack: Problem): void =>
    events.refused(`wax/${site}/${id === null ? 'collector' : ownClientId(id)}`, lack, new Uint8Array());
  try {
    const sessions = openSessions(broker.persistence, { ...policy, file, lost, now: events.now });
    sessions.expire();
    sessions.revokeOthers(logins);
    await sessions.load();
    broker.persistence = sessions.persistence;
    aedes.on('client', (client) => {
      if (!client.clean) sessions.arrived(client);
    });
    aedes.on('clientDisconnect', (client) => {
      if (!client.clean) void sessions.left(client);
    });
    const expiry = setInterval(sessions.expire, EXPIRY_MILLIS).unref();
    return {
      ...sessions,
      close: () => {
        clearInterval(expiry);
        sessions.close();
      },
    };
  } catch (error) {
    if (!(error instanceof DatabaseRefusal)) throw error;
    lost(null, problem('sessions-not-kept', { reason: error.message }));
    return null;
  }
}
