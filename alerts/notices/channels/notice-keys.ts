// Keys that only this lab process has, made at the first start and kept in the data folder, readable by its owner alone:
// the pair by which push services know it (RFC 8292), and one secret from which links and webhooks get theirs.

import { createHmac, randomBytes } from 'node:crypto';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import webPush from 'web-push';

export interface NoticeKeys {
  readonly push: { readonly publicKey: string; readonly privateKey: string };
  readonly secret: string;
}

export function noticeKeys(file: string): NoticeKeys {
  try {
    const kept = JSON.parse(readFileSync(file, 'utf8')) as Partial<NoticeKeys>;
    if (
      typeof kept.secret === 'string' &&
      typeof kept.push?.publicKey === 'string' &&
      kept.push.privateKey !== ''
    )
      return { push: kept.push, secret: kept.secret };
    throw new Error(
      `${file}: these are not the keys for notices. Restore the copy, or delete the file: phones then subscribe anew.`,
    );
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code !== 'ENOENT') throw cause;
  }
  const made: NoticeKeys = {
    push: webPush.generateVAPIDKeys(),
    secret: randomBytes(32).toString('base64url'),
  };
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, `${JSON.stringify(made)}\n`, { mode: 0o600, flag: 'wx' });
  return made;
}

/** A key of its own for each use; the one secret itself signs nothing. */
export const derivedKey = (secret: string, use: string): Buffer =>
  createHmac('sha256', secret).update(use).digest();

/** Shown to the manager once the webhook stands, for its receiver. */
export const webhookSecret = (keys: NoticeKeys, webhook: string): string =>
  derivedKey(keys.secret, `webhook ${webhook}`).toString('base64url');
