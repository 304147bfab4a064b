// Why a port of ours could not be opened, with the setting that names it.

import { errorCode, ProblemError, reasonOf } from '../../wax/problem-error.ts';

export class ListenRefusal extends ProblemError<'port-taken' | 'address-not-usable'> {}

interface ListenAddress {
  readonly setting: string;
  readonly host: string;
  readonly port: number;
}

/** Awaits the opening; an address that cannot be opened ends it with a `ListenRefusal`. */
export async function awaitListening<T>(
  { setting, host, port }: ListenAddress,
  opening: Promise<T>,
): Promise<T> {
  try {
    return await opening;
  } catch (error) {
    const code = errorCode(error);
    const values = { setting, address: host, port: String(port) };
    if (code === 'EADDRINUSE') throw new ListenRefusal('port-taken', values, error);
    if (code === 'EACCES' || code === 'EADDRNOTAVAIL' || code === 'ENOTFOUND')
      throw new ListenRefusal('address-not-usable', { ...values, reason: String(code) }, error);
    throw error instanceof Error ? error : new Error(reasonOf(error));
  }
}
