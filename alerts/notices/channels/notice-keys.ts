// Keys that only this lab process has, made at the first start and kept in the data folder, readable by its owner alone:
// the pair by which push services recognise it (RFC 8292), and one secret from which links and webhooks get theirs.

import { createHmac, randomBytes } from 'node:crypto';
import webPush from 'web-push';
import { type KeptOnce, keepOnce } from '../../../lab/database/durable-file.ts';

export interface NoticeKeys {
  readonly push: { readonly publicKey: string; readonly privateKey: string };
  readonly secret: string;
}

const readKeys = (json: unknown): NoticeKeys | null => {
  const { push, secret } = json as Partial<NoticeKeys>;
  return typeof secret === 'string' && typeof push?.publicKey === 'string' && push.privateKey !== ''
    ? { push, secret }
    : null;
};

/** Reads the keys, or makes and keeps them; with new ones every phone has to subscribe again. */
export const noticeKeys = (
  file: string,
  onReplaced: NonNullable<KeptOnce<NoticeKeys>['onReplaced']> = () => {},
): NoticeKeys =>
  keepOnce(file, {
    read: readKeys,
    make: () => ({ push: webPush.generateVAPIDKeys(), secret: randomBytes(32).toString('base64url') }),
    onReplaced,
  });

/** A key of its own for each use; the one secret itself signs nothing. */
export const derivedKey = (secret: string, use: string): Buffer =>
  createHmac('sha256', secret).update(use).digest();

/** Shown to the manager once the webhook is saved, for its receiver. */
export const webhookSecret = (keys: NoticeKeys, webhook: string): string =>
  derivedKey(keys.secret, `webhook ${webhook}`).toString('base64url');

/** By which every change on MQTT is signed. */
export const changeSecret = (keys: NoticeKeys): string =>
  derivedKey(keys.secret, 'changes of alarms').toString('base64url');
