// Names of sites, gateways and probes as they stand in topics, series and addresses.

import { failure, type Result, success } from '../../wax/result.ts';

const IDENTIFIER_LENGTH = 64;
const IDENTIFIER = /^[A-Za-z0-9._-]+$/;

const checked =
  (code: 'probe-id' | 'gateway-id') =>
  (id: string): Result<string> =>
    id.length <= IDENTIFIER_LENGTH && IDENTIFIER.test(id) ? success(id) : failure(code, {}, id);

export const probeId = checked('probe-id');
export const gatewayId = checked('gateway-id');
