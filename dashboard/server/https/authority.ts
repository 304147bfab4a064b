// The lab's own certificate authority: made once, kept in the data folder with a key that only its owner can read,
// and used for a certificate of the server whenever one is needed. ECDSA on P-256; certificates after RFC 5280.

// The library looks it up before its own.
import 'reflect-metadata';
import { createHash, webcrypto } from 'node:crypto';
import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import * as x509 from '@peculiar/x509';
import { writeDurably } from '../../../lab/database/durable-file.ts';
import { reasonOf } from '../../../wax/problem-error.ts';
import { type EpochMillis, MILLIS_PER_DAY } from '../../../wax/units.ts';
import { HttpsRefusal } from './https-refusal.ts';
import { nameConstraints, vouchedFor } from './name-constraints.ts';
import type { ServerNames } from './server-names.ts';

const KEY_ALGORITHM = { name: 'ECDSA', namedCurve: 'P-256' } as const;
const SIGNING = { name: 'ECDSA', hash: 'SHA-256' } as const;
const NAME_CONSTRAINTS = '2.5.29.30';
/** Long, because trusting it anew means going to every phone; its reach is small. Our choice. */
const AUTHORITY_DAYS = 3650;
/** Phones refuse certificates of more than 398 days (825 under an own authority); ours are renewed by themselves. */
const SERVER_DAYS = 90;
/** A phone whose clock is behind must not refuse a new certificate. */
const BACKDATED_MILLIS = MILLIS_PER_DAY;

export interface Pair {
  readonly key: string;
  /** The certificate, and those up to but without the root. PEM. */
  readonly cert: string;
}

export interface Authority {
  /** DER, as phones take it. */
  readonly certificate: Uint8Array;
  readonly pem: string;
  /** SHA-256 of the certificate, in pairs of hex digits: what a person compares before trusting it. */
  readonly fingerprint: string;
  readonly notAfter: EpochMillis;
  /** Those of the names that it may vouch for. */
  readonly vouchedFor: (names: ServerNames) => ServerNames;
  readonly issue: (
    names: ServerNames,
    now: EpochMillis,
  ) => Promise<Pair & { readonly notAfter: EpochMillis }>;
}

const filesIn = (folder: string) => ({
  key: join(folder, 'authority-key.pem'),
  cert: join(folder, 'authority.pem'),
});

/** Whether opening it would only read. */
export const hasAuthority = (folder: string): boolean => !isMissing(filesIn(folder).cert);

/** `folder` is made when it is not there; `labName` goes into the name that a phone shows. */
export async function openAuthority(
  folder: string,
  labName: string,
  names: ServerNames,
  now: EpochMillis,
): Promise<Authority> {
  const files = filesIn(folder);
  if (isMissing(files.cert)) await makeAuthority(files, labName, names, now);
  const { key, certificate } = await readAuthority(files);
  const notAfter = certificate.notAfter.getTime() as EpochMillis;
  if (notAfter <= now)
    throw new HttpsRefusal('authority-expired', {
      file: files.cert,
      expired_on: certificate.notAfter.toISOString().slice(0, 10),
    });
  const der = new Uint8Array(certificate.rawData);
  return {
    certificate: der,
    pem: certificate.toString('pem'),
    fingerprint: createHash('sha256').update(der).digest('hex').toUpperCase().match(/../g)?.join(' ') ?? '',
    notAfter,
    vouchedFor: (asked) => vouchedFor(asked, certificate.getExtension(NAME_CONSTRAINTS)),
    issue: (asked, at) => issue({ key, certificate }, asked, at),
  };
}

/** A power cut may have left the name without what it stands for. */
const isMissing = (file: string): boolean => (statSync(file, { throwIfNoEntry: false })?.size ?? 0) === 0;

interface Opened {
  readonly key: webcrypto.CryptoKey;
  readonly certificate: x509.X509Certificate;
}

async function readAuthority(files: { readonly key: string; readonly cert: string }): Promise<Opened> {
  try {
    const pkcs8 = x509.PemConverter.decodeFirst(readFileSync(files.key, 'utf8'));
    const key = await webcrypto.subtle.importKey('pkcs8', pkcs8, KEY_ALGORITHM, false, ['sign']);
    return { key, certificate: new x509.X509Certificate(readFileSync(files.cert, 'utf8')) };
  } catch (error) {
    throw new HttpsRefusal('authority-unreadable', { ...files, reason: reasonOf(error) }, error);
  }
}

async function makeAuthority(
  files: { readonly key: string; readonly cert: string },
  labName: string,
  names: ServerNames,
  now: EpochMillis,
): Promise<void> {
  const keys = await webcrypto.subtle.generateKey(KEY_ALGORITHM, true, ['sign', 'verify']);
  const certificate = await x509.X509CertificateGenerator.createSelfSigned({
    serialNumber: serialNumber(),
    name: [{ CN: [`Waxwarden, ${labName}`.slice(0, 64)] }],
    notBefore: new Date(now - BACKDATED_MILLIS),
    notAfter: new Date(now + AUTHORITY_DAYS * MILLIS_PER_DAY),
    signingAlgorithm: SIGNING,
    keys,
    extensions: [
      new x509.BasicConstraintsExtension(true, 0, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.keyCertSign | x509.KeyUsageFlags.cRLSign, true),
      await x509.SubjectKeyIdentifierExtension.create(keys.publicKey),
      nameConstraints(names),
    ],
  });
  const pkcs8 = await webcrypto.subtle.exportKey('pkcs8', keys.privateKey);
  // The certificate last: where it is, the key is whole.
  writeDurably(files.key, x509.PemConverter.encode(pkcs8, x509.PemConverter.PrivateKeyTag), 0o600);
  writeDurably(files.cert, certificate.toString('pem'), 0o644);
}

async function issue({ key, certificate }: Opened, names: ServerNames, now: EpochMillis) {
  const keys = await webcrypto.subtle.generateKey(KEY_ALGORITHM, true, ['sign', 'verify']);
  const notAfter = Math.min(
    now + SERVER_DAYS * MILLIS_PER_DAY,
    certificate.notAfter.getTime(),
  ) as EpochMillis;
  const server = await x509.X509CertificateGenerator.create({
    serialNumber: serialNumber(),
    subject: [{ CN: ['Waxwarden'] }],
    issuer: certificate.subjectName,
    notBefore: new Date(now - BACKDATED_MILLIS),
    notAfter: new Date(notAfter),
    signingAlgorithm: SIGNING,
    signingKey: key,
    publicKey: keys.publicKey,
    extensions: [
      new x509.BasicConstraintsExtension(false, undefined, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.digitalSignature, true),
      new x509.ExtendedKeyUsageExtension([x509.ExtendedKeyUsage.serverAuth]),
      new x509.SubjectAlternativeNameExtension([
        ...names.dns.map((value) => ({ type: 'dns' as const, value })),
        ...names.addresses.map((value) => ({ type: 'ip' as const, value })),
      ]),
      await x509.AuthorityKeyIdentifierExtension.create(certificate),
      await x509.SubjectKeyIdentifierExtension.create(keys.publicKey),
    ],
  });
  const pkcs8 = await webcrypto.subtle.exportKey('pkcs8', keys.privateKey);
  return {
    key: x509.PemConverter.encode(pkcs8, x509.PemConverter.PrivateKeyTag),
    cert: server.toString('pem'),
    notAfter,
  };
}

/** 126 random bits and positive, as RFC 5280 4.1.2.2 demands. */
function serialNumber(): string {
  const bytes = webcrypto.getRandomValues(new Uint8Array(16));
  bytes[0] = ((bytes[0] ?? 0) & 0x3f) | 0x40;
  return Buffer.from(bytes).toString('hex');
}
