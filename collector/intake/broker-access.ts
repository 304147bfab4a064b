// Who may do what at the embedded broker: a gateway that was paired has an account of its own and writes under its own
// name alone; the shared login is for those that were not paired, and never for the name of one that was. Pure.

import { createHash, timingSafeEqual } from 'node:crypto';
import { OUR_LEVELS } from '../decode/decode-message.ts';
import { idOfName } from '../decode/identifier.ts';
import type { BrokerLogin } from './broker-login.ts';

export interface GatewayAccount {
  /** Id of the gateway, which is its user name too. */
  readonly gateway: string;
  /** SHA-256, base64url: the password is random and long, so it needs no slow hash. */
  readonly passwordHash: string;
}

/** `shared`: whoever has the shared login, or anybody where none is required. */
export type BrokerUser = { readonly kind: 'shared' } | { readonly kind: 'gateway'; readonly gateway: string };

export interface BrokerAccess {
  /** Null: wrong user or password. */
  readonly signIn: (user: string | undefined, password: Uint8Array | undefined) => BrokerUser | null;
  readonly mayPublish: (user: BrokerUser, topic: string) => boolean;
  readonly maySubscribe: (user: BrokerUser, filter: string) => boolean;
  /**
   * A digest of user and password, so that what belongs to a login ends with it; undefined for a login that no longer
   * holds.
   */
  readonly loginOf: (user: BrokerUser) => string | undefined;
  readonly logins: ReadonlySet<string>;
}

const digest = (value: string | Uint8Array): Buffer => createHash('sha256').update(value).digest();
export const passwordHashOf = (password: string): string => digest(password).toString('base64url');

/** Digests are compared, so that neither length nor content shows in the time it takes. */
const isSame = (left: string | Uint8Array, right: string | Uint8Array): boolean =>
  timingSafeEqual(digest(left), digest(right));

/** The gateway that a topic belongs to, with readings of its own or as a Sparkplug edge node; null for no one's. */
function gatewayOf(topic: string, site: string): string | null {
  const [root, second, third, fourth] = topic.split('/');
  if (root === 'wax' && second === site) return third ?? null;
  // As a filter `+` or `#` stands for every node.
  return root === 'spBv1.0' && third !== 'STATE' && fourth !== undefined
    ? fourth === '+' || fourth === '#'
      ? fourth
      : idOfName(fourth)
    : null;
}

export function brokerAccess(
  site: string,
  login: BrokerLogin | null,
  accounts: readonly GatewayAccount[],
): BrokerAccess {
  const hashes = new Map(accounts.map(({ gateway, passwordHash }) => [gateway, passwordHash]));
  const shared = login === null ? '' : passwordHashOf(JSON.stringify([login.user, login.password]));
  return {
    loginOf: (user) => (user.kind === 'shared' ? shared : hashes.get(user.gateway)),
    logins: new Set([shared, ...hashes.values()]),
    signIn: (user, password) => {
      const account = user === undefined ? undefined : hashes.get(user);
      if (user !== undefined && account !== undefined)
        return isSame(passwordHashOf(Buffer.from(password ?? '').toString()), account)
          ? { kind: 'gateway', gateway: user }
          : null;
      if (login === null) return { kind: 'shared' };
      const isUser = isSame(user ?? '', login.user);
      const isPassword = isSame(password ?? '', login.password);
      return isUser && isPassword ? { kind: 'shared' } : null;
    },
    mayPublish: (user, topic) => {
      const gateway = gatewayOf(topic, site);
      if (user.kind === 'gateway') return gateway === user.gateway;
      return gateway === null || !hashes.has(gateway);
    },
    maySubscribe: (user, filter) => {
      // What the broker publishes about its clients is for none of them, and shared subscriptions (MQTT 5) it does not have.
      if (filter.startsWith('$')) return false;
      if (user.kind === 'shared' || filter.startsWith('spBv1.0/STATE/')) return true;
      const gateway = gatewayOf(filter, site);
      return gateway === user.gateway || (filter.startsWith(`wax/${site}/`) && OUR_LEVELS.has(gateway ?? ''));
    },
  };
}
