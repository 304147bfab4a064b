// The address by which other devices open the lab, for what is printed on this computer and read by a phone. Only from
// a name that the lab gave: an address of the network may be another one tomorrow, when the label still sticks. Pure.

import { isIP } from 'node:net';
import { isLoopback } from '../../loopback.ts';

interface Door {
  readonly hostNames: readonly string[];
  /** Every connection comes from this machine, and from no proxy. */
  readonly loopback: boolean;
  readonly isSecure: boolean;
  readonly behindProxy: boolean;
  /** Port that is listened on; behind a proxy it is the proxy's that counts. */
  readonly port: number;
}

/** An origin such as `https://wax.example:8460`; null when the lab gave no name, or nobody else can come in. */
export function labOrigin({ hostNames, loopback, isSecure, behindProxy, port }: Door): string | null {
  const name = hostNames.find((host) => !isLoopback(host));
  if (name === undefined || loopback) return null;
  const host = isIP(name) === 6 ? `[${name}]` : name;
  // Phones come by HTTPS; a proxy that serves it does so on its usual port.
  return new URL(behindProxy ? `https://${host}` : `${isSecure ? 'https' : 'http'}://${host}:${port}`).origin;
}
