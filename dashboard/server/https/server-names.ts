// By which names and addresses a lab's server is reached, and which of them its own authority may vouch for.

import { isIP } from 'node:net';
import type { networkInterfaces } from 'node:os';

export interface ServerNames {
  readonly dns: readonly string[];
  readonly addresses: readonly string[];
}

interface Machine {
  readonly hostname: string;
  readonly interfaces: ReturnType<typeof networkInterfaces>;
}

/** `given` are names or addresses that the lab set; link-local IPv6 addresses cannot be typed into a browser. */
export function serverNames(machine: Machine, given: readonly string[]): ServerNames {
  const own = machine.hostname.toLowerCase();
  const isName = /^[a-z0-9]([a-z0-9.-]*[a-z0-9])?$/.test(own);
  const announced = isName && !own.includes('.') ? [own, `${own}.local`] : isName ? [own] : [];
  const found = Object.values(machine.interfaces)
    .flatMap((list) => list ?? [])
    .map(({ address }) => address)
    .filter((address) => !address.toLowerCase().startsWith('fe80:'));
  const asked = given.map((name) => name.toLowerCase().replace(/^\[(.*)\]$/, '$1'));
  return {
    dns: unique(['localhost', ...announced, ...asked.filter((name) => isIP(name) === 0)]),
    addresses: unique(['127.0.0.1', ...found, ...asked.filter((name) => isIP(name) !== 0)]),
  };
}

const unique = (names: readonly string[]): readonly string[] => [...new Set(names)];
