// A certificate that is renewed while the server runs: when a third of its life is left, when the machine got
// other addresses, or when the lab put new files in place. A renewal that fails leaves the old one in use and is
// tried again at the next check.

import { type EpochMillis, MILLIS_PER_DAY } from '../../../wax/units.ts';
import type { Authority, Pair } from './authority.ts';
import { readOwnCertificate } from './own-certificate.ts';
import type { ServerNames } from './server-names.ts';

/** A third of the 90 days of ours. */
const RENEWED_BEFORE_MILLIS = 30 * MILLIS_PER_DAY;

export interface RenewableCertificate {
  readonly pair: Pair;
  /** Whether browsers may be asked to insist on HTTPS from now on (RFC 6797). */
  readonly isPublic: boolean;
  /** Checks once: answers the new pair where there is one, null where the present one stays. */
  readonly renewed: (now: EpochMillis) => Promise<Pair | null>;
}

export async function certificateOfAuthority(
  authority: Authority,
  names: () => ServerNames,
  now: EpochMillis,
): Promise<RenewableCertificate> {
  const vouched = (): ServerNames => authority.vouchedFor(names());
  let issuedFor = vouched();
  let current = await authority.issue(issuedFor, now);
  return {
    pair: current,
    isPublic: false,
    renewed: async (at) => {
      const asked = vouched();
      const isDue = at >= current.notAfter - RENEWED_BEFORE_MILLIS && current.notAfter < authority.notAfter;
      if (!isDue && JSON.stringify(asked) === JSON.stringify(issuedFor)) return null;
      current = await authority.issue(asked, at);
      issuedFor = asked;
      return current;
    },
  };
}

export function certificateOfFiles(
  files: { readonly cert: string; readonly key: string },
  now: EpochMillis,
): RenewableCertificate {
  let current = readOwnCertificate(files, now);
  return {
    pair: current,
    isPublic: !current.isSelfSigned,
    renewed: async (at) => {
      const latest = readOwnCertificate(files, at);
      if (latest.cert === current.cert && latest.key === current.key) return null;
      current = latest;
      return current;
    },
  };
}
