// A certificate that the lab brings itself, from two files. Checked before it is used: a pair that does not belong
// together, or has ended, is refused with the name of the file.

import { createPrivateKey, X509Certificate } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { reasonOf } from '../../../wax/problem-error.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { Pair } from './authority.ts';
import { HttpsRefusal } from './https-refusal.ts';

export interface OwnCertificate extends Pair {
  readonly notAfter: EpochMillis;
  /** Signed by itself: browsers then ignore the request to insist on HTTPS, and a mistake would lock people out. */
  readonly isSelfSigned: boolean;
}

export function readOwnCertificate(
  files: { readonly cert: string; readonly key: string },
  now: EpochMillis,
): OwnCertificate {
  const cert = textOf('--https-cert', files.cert);
  const key = textOf('--https-key', files.key);
  const certificate = parseFile('--https-cert', files.cert, () => new X509Certificate(cert));
  const secret = parseFile('--https-key', files.key, () => createPrivateKey(key));
  if (!certificate.checkPrivateKey(secret)) throw new HttpsRefusal('https-pair-mismatch', files);
  const notAfter = Date.parse(certificate.validTo) as EpochMillis;
  if (notAfter <= now)
    throw new HttpsRefusal('https-certificate-expired', {
      file: files.cert,
      expired_on: new Date(notAfter).toISOString().slice(0, 10),
    });
  return { key, cert, notAfter, isSelfSigned: certificate.checkIssued(certificate) };
}

function textOf(setting: string, file: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch (error) {
    throw unreadable(setting, file, error);
  }
}

function parseFile<T>(setting: string, file: string, parse: () => T): T {
  try {
    return parse();
  } catch (error) {
    throw unreadable(setting, file, error);
  }
}

const unreadable = (setting: string, file: string, error: unknown): HttpsRefusal =>
  new HttpsRefusal('https-file-unreadable', { setting, file, reason: reasonOf(error) }, error);
