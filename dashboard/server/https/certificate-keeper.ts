// Keeps a server's certificate fresh while it runs: renewed when a third of its life is left, when the machine got
// other addresses, or when the lab put new files in place. A renewal that fails leaves the old one in use and is
// tried again at the next look.

import { type EpochMillis, MILLIS_PER_DAY } from '../../../wax/units.ts';
import type { Authority, Pair } from './authority.ts';
import { readOwnCertificate } from './own-certificate.ts';
import type { ServerNames } from './server-names.ts';

/** A third of the 90 days of ours. */
const RENEWED_BEFORE_MILLIS = 30 * MILLIS_PER_DAY;

export interface CertificateKeeper {
  readonly pair: Pair;
  /** Whether browsers may be told to insist on HTTPS from now on (RFC 6797). */
  readonly isPublic: boolean;
  /** Looks once: answers the new pair where there is one, null where the present one stays. */
  readonly look: (now: EpochMillis) => Promise<Pair | null>;
}

export async function keeperOfAuthority(
  authority: Authority,
  names: () => ServerNames,
  now: EpochMillis,
): Promise<CertificateKeeper> {
  const vouched = (): ServerNames => authority.vouchedFor(names());
  let issuedFor = vouched();
  let current = await authority.issue(issuedFor, now);
  return {
    pair: current,
    isPublic: false,
    look: async (at) => {
      const asked = vouched();
      const isDue = at >= current.notAfter - RENEWED_BEFORE_MILLIS && current.notAfter < authority.notAfter;
      if (!isDue && JSON.stringify(asked) === JSON.stringify(issuedFor)) return null;
      current = await authority.issue(asked, at);
      issuedFor = asked;
      return current;
    },
  };
}

export function keeperOfFiles(
  files: { readonly cert: string; readonly key: string },
  now: EpochMillis,
): CertificateKeeper {
  let current = readOwnCertificate(files, now);
  return {
    pair: current,
    isPublic: !current.isSelfSigned,
    look: async (at) => {
      const found = readOwnCertificate(files, at);
      if (found.cert === current.cert && found.key === current.key) return null;
      current = found;
      return current;
    },
  };
}
