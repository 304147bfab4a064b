// HTTPS of one site: the certificate that the server starts with, its renewal while it runs, and the plain door.

import { hostname, networkInterfaces } from 'node:os';
import { join } from 'node:path';
import type { Server as PlainServer } from 'node:http';
import { Server } from 'node:https';
import { type Authority, openAuthority, type Pair } from '../dashboard/server/https/authority.ts';
import {
  type CertificateKeeper,
  keeperOfAuthority,
  keeperOfFiles,
} from '../dashboard/server/https/certificate-keeper.ts';
import { HttpsRefusal } from '../dashboard/server/https/https-refusal.ts';
import { openPlainDoor } from '../dashboard/server/https/plain-door.ts';
import { type ServerNames, serverNames } from '../dashboard/server/https/server-names.ts';
import type { EpochMillis } from '../wax/units.ts';
import type { HttpsSetting } from './https-settings.ts';

/** Renewal is due days ahead; an address that changed is missed for at most so long. */
const LOOK_MILLIS = 15 * 60_000;

export interface SecureHouse {
  readonly pair: Pair;
  readonly isPublic: boolean;
  readonly authority: Authority | null;
  /** Looks for a newer certificate and gives it to the server. */
  readonly renew: (server: PlainServer) => Promise<boolean>;
  /** Opens the plain door and looks after the certificate; answers where the door is and how to end both. */
  readonly attend: (
    server: PlainServer,
    door: { readonly host: string; readonly port: number; readonly securePort: number },
  ) => Promise<{ readonly plainAddress: string; readonly end: () => Promise<void> }>;
}

interface SecureHouseOptions {
  readonly setting: HttpsSetting;
  readonly dataFolder: string;
  readonly labName: string;
  readonly hostNames: readonly string[];
  readonly now: () => EpochMillis;
}

export async function secureHouse(options: SecureHouseOptions): Promise<SecureHouse> {
  const { hostNames, now, setting } = options;
  const names = (): ServerNames =>
    serverNames({ hostname: hostname(), interfaces: networkInterfaces() }, hostNames);
  let authority: Authority | null = null;
  let keeper: CertificateKeeper;
  if (setting.kind === 'files') keeper = keeperOfFiles(setting, now());
  else {
    const folder = join(options.dataFolder, 'https');
    authority = await openAuthority(folder, options.labName, names(), now());
    refuseOutside(authority, hostNames);
    keeper = await keeperOfAuthority(authority, names, now());
  }
  const renew: SecureHouse['renew'] = async (server) => {
    const pair = await keeper.look(now());
    if (pair !== null && server instanceof Server) server.setSecureContext(pair);
    return pair !== null;
  };
  return {
    pair: keeper.pair,
    isPublic: keeper.isPublic,
    authority,
    renew,
    attend: async (server, door) => {
      const plain = await openPlainDoor({ ...door, authority });
      const timer = setInterval(() => {
        renew(server).catch((error: unknown) =>
          console.error(
            `waxwarden: the certificate was not renewed and is tried again: ${error instanceof Error ? error.message : String(error)}`,
          ),
        );
      }, LOOK_MILLIS);
      return {
        plainAddress: plain.address,
        end: async () => {
          clearInterval(timer);
          await plain.close();
        },
      };
    },
  };
}

function refuseOutside(authority: Authority, hostNames: readonly string[]): void {
  const vouched = authority.vouchedFor({ dns: hostNames.map((name) => name.toLowerCase()), addresses: [] });
  const outside = hostNames.find((name) => !vouched.dns.includes(name.toLowerCase()));
  if (outside !== undefined) throw new HttpsRefusal('authority-name-outside', { name: outside });
}
