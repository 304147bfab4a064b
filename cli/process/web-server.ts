// The web server on the address of the settings, with HTTPS where it is set.

import { hostname } from 'node:os';
import { alarmText } from '../../alerts/notices/texts/alarm-text.ts';
import { connectionCutter } from '../../collector/intake/connection-cutter.ts';
import { isLoopback } from '../../dashboard/loopback.ts';
import type { RunningLab } from '../../dashboard/queries/running-lab.ts';
import { buildServer } from '../../dashboard/server/build-server.ts';
import { serverNames } from '../../dashboard/server/https/server-names.ts';
import type { HttpsService } from '../../dashboard/server/https/https-service.ts';
import type { ConnectionSettings } from '../../lab/database/connection-settings.ts';
import type { LabDatabase } from '../../lab/database/database.ts';
import { problemOf } from '../../wax/problem-error.ts';
import type { EpochMillis } from '../../wax/units.ts';
import { problemOnConsole } from '../console/console-words.ts';
import { awaitListening } from './listen-refusal.ts';
import type { Log } from '../console/log.ts';
import type { ProcessSettings } from '../settings/settings.ts';
import { webRoot } from './shipped.ts';

/**
 * Requests that are still being answered when the process ends get this long; a store that hangs must not hold up the
 * end.
 */
const LAST_ANSWERS_MILLIS = 1000;

export interface WebServer {
  readonly address: string;
  /** With HTTPS: the plain address, and the fingerprint to compare before the lab's authority is trusted; else null. */
  readonly trust: { readonly plainAddress: string; readonly fingerprint: string | null } | null;
  readonly close: () => Promise<void>;
}

const renewalFailed = (error: unknown): void =>
  console.error(`waxwarden: ${problemOnConsole(problemOf(error, 'certificate-not-renewed'))}`);

/** Null where the settings have none. Before the parts that need ending, so that a refusal ends nothing. */
export const httpsOf = async (
  settings: ProcessSettings,
  labName: string,
  now: () => EpochMillis,
  onRenewed: (pair: HttpsService['pair']) => void,
  addedNames: () => readonly string[],
): Promise<HttpsService | null> => {
  if (settings.https === null) return null;
  // The library that makes certificates is large, and most starts do not need it.
  const { openHttps } = await import('../../dashboard/server/https/https-service.ts');
  return openHttps({
    setting: settings.https,
    dataFolder: settings.data,
    labName,
    hostNames: settings.hostNames,
    addedNames,
    now,
    onRenewed,
    onRenewalFailed: renewalFailed,
  });
};

export async function openWebServer(
  { settings, log }: { readonly settings: ProcessSettings; readonly log: Log },
  running: RunningLab,
  database: LabDatabase,
  https: HttpsService | null,
  connections: Pick<ConnectionSettings, 'onChange'>,
): Promise<WebServer> {
  const { host, port, httpPort } = settings;
  const server = buildServer(running, {
    webRoot,
    alarmWords: alarmText,
    database,
    // Requests through a proxy come from anywhere.
    loopback: isLoopback(host) && settings.behindProxy.length === 0,
    hostNames: settings.hostNames,
    mailAtStart: settings.mail === null ? null : new URL(settings.mail).host,
    machineNames: serverNames({ hostname: hostname(), interfaces: {} }, []).dns,
    ...(settings.behindProxy.length > 0 && { trustedProxies: settings.behindProxy }),
    ...(https !== null && { tls: https.pair, authority: https.authority, insistOnHttps: https.isPublic }),
    ...(settings.logLevel !== 'silent' && { log: { level: settings.logLevel, stream: log.requests } }),
  });
  const cut = connectionCutter(server.server);
  const close = async (): Promise<void> => {
    const late = setTimeout(cut, LAST_ANSWERS_MILLIS);
    await server.close();
    clearTimeout(late);
  };
  const address = await awaitListening({ setting: '--port', host, port }, server.listen({ host, port }));
  if (https === null) return { address, trust: null, close };
  const securePort = Number(new URL(address).port || 443);
  const plain = await awaitListening(
    { setting: '--http-port', host, port: httpPort },
    https.start(server.server, { host, port: httpPort, securePort }),
  );
  // A new name is in the certificate at once; what fails is tried again with the next renewal.
  const endFollowing = connections.onChange(() => void https.renew(server.server).catch(renewalFailed));
  return {
    address,
    trust: { plainAddress: plain.plainAddress, fingerprint: https.authority?.fingerprint ?? null },
    close: async () => {
      endFollowing();
      await plain.end();
      await close();
    },
  };
}
