// HTTPS of one site: the certificate that the server starts with, its renewal while it runs, and the plain HTTP server
// beside it.

import { X509Certificate } from 'node:crypto';
import type { Server as PlainServer } from 'node:http';
import { Server } from 'node:https';
import { hostname, networkInterfaces } from 'node:os';
import { join } from 'node:path';
import type { EpochMillis } from '../../../wax/units.ts';
import { type Authority, hasAuthority, openAuthority, type Pair } from './authority.ts';
import {
  certificateOfAuthority,
  certificateOfFiles,
  type RenewableCertificate,
} from './renewable-certificate.ts';
import { HttpsRefusal } from './https-refusal.ts';
import { openPlainServer } from './plain-server.ts';
import { type ServerNames, serverNames } from './server-names.ts';

/** Renewal is due days ahead; an address that changed is missed for at most so long. */
const INTERVAL_MILLIS = 15 * 60_000;

export type HttpsSetting =
  /** The lab's own authority, made in the data folder. */
  { readonly kind: 'authority' } | { readonly kind: 'files'; readonly cert: string; readonly key: string };

export interface HttpsService {
  readonly pair: Pair;
  readonly isPublic: boolean;
  readonly authority: Authority | null;
  /** Of the certificate that is shown now. */
  readonly endsAt: () => EpochMillis;
  /** Gives the server a newer certificate where there is one; returns whether there was. */
  readonly renew: (server: PlainServer) => Promise<boolean>;
  /** Opens the plain HTTP server and renews the certificate from now on; returns its address and how to end both. */
  readonly start: (
    server: PlainServer,
    plain: { readonly host: string; readonly port: number; readonly securePort: number },
  ) => Promise<{ readonly plainAddress: string; readonly end: () => Promise<void> }>;
}

interface CertificateOptions {
  readonly setting: HttpsSetting;
  readonly dataFolder: string;
  readonly labName: string;
  readonly hostNames: readonly string[];
  /** Names that were set while it runs; they enter the certificate when it is renewed. */
  readonly addedNames: () => readonly string[];
  readonly now: () => EpochMillis;
}

interface HttpsOptions extends CertificateOptions {
  /** For whoever else shows the certificate. */
  readonly onRenewed?: (pair: Pair) => void;
  /** The certificate stays as it is and the renewal is tried again. */
  readonly onRenewalFailed: (error: unknown) => void;
}

/** @throws HttpsRefusal when there is no certificate to start with. */
export async function openHttps(options: HttpsOptions): Promise<HttpsService> {
  const { now, onRenewalFailed, onRenewed } = options;
  const { authority, certificate } = await certificateOf(options);
  let shown = certificate.pair;
  const renew: HttpsService['renew'] = async (server) => {
    const pair = await certificate.renewed(now());
    shown = pair ?? shown;
    if (pair !== null) {
      if (server instanceof Server) server.setSecureContext(pair);
      onRenewed?.(pair);
    }
    return pair !== null;
  };
  return {
    pair: certificate.pair,
    isPublic: certificate.isPublic,
    authority,
    endsAt: () => Date.parse(new X509Certificate(shown.cert).validTo) as EpochMillis,
    renew,
    start: async (server, { host, port, securePort }) => {
      const plain = await openPlainServer({ host, port, securePort, authority });
      const timer = setInterval(() => {
        renew(server).catch(onRenewalFailed);
      }, INTERVAL_MILLIS);
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

/**
 * What can be shown while nothing can be written into the data folder; null where its authority is still to be made.
 * @throws HttpsRefusal as `openHttps`
 */
export async function certificateAtHand(options: CertificateOptions): Promise<Pair | null> {
  if (options.setting.kind === 'authority' && !hasAuthority(authorityFolder(options))) return null;
  return (await certificateOf(options)).certificate.pair;
}

const authorityFolder = ({ dataFolder }: CertificateOptions): string => join(dataFolder, 'https');

async function certificateOf(
  options: CertificateOptions,
): Promise<{ readonly authority: Authority | null; readonly certificate: RenewableCertificate }> {
  const { addedNames, hostNames, setting, labName, now } = options;
  if (setting.kind === 'files') return { authority: null, certificate: certificateOfFiles(setting, now()) };
  const names = (): ServerNames =>
    serverNames({ hostname: hostname(), interfaces: networkInterfaces() }, [...hostNames, ...addedNames()]);
  const authority = await openAuthority(authorityFolder(options), labName, names(), now());
  refuseOutside(authority, hostNames);
  return { authority, certificate: await certificateOfAuthority(authority, names, now()) };
}

function refuseOutside(authority: Authority, hostNames: readonly string[]): void {
  const vouched = authority.vouchedFor({ dns: hostNames.map((name) => name.toLowerCase()), addresses: [] });
  const outside = hostNames.find((name) => !vouched.dns.includes(name.toLowerCase()));
  if (outside !== undefined) throw new HttpsRefusal('authority-name-outside', { name: outside });
}
