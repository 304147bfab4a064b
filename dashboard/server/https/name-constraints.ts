// What a lab's authority may vouch for at all (RFC 5280 4.2.1.10, critical): its own names, the names that only a
// local network has, and private addresses. Whoever steals its key can then still not pose as a bank to the phones
// that trust it.

import { BlockList, isIPv6 } from 'node:net';
import { AsnConvert } from '@peculiar/asn1-schema';
import { GeneralName, GeneralSubtree, GeneralSubtrees, NameConstraints } from '@peculiar/asn1-x509';
import { Extension } from '@peculiar/x509';
import type { ServerNames } from './server-names.ts';

const ID_NAME_CONSTRAINTS = '2.5.29.30';

/** `local` RFC 6762, `home.arpa` RFC 8375, `internal` reserved by ICANN 2024; the others are usual in routers. */
const LOCAL_DOMAINS = ['local', 'home.arpa', 'internal', 'lan', 'localhost'] as const;

type Range = readonly [network: string, bits: number];
/** RFC 1918, RFC 1122, RFC 3927, RFC 6598; RFC 4193, RFC 4291. */
const PRIVATE_RANGES: readonly Range[] = [
  ['10.0.0.0', 8],
  ['172.16.0.0', 12],
  ['192.168.0.0', 16],
  ['127.0.0.0', 8],
  ['169.254.0.0', 16],
  ['100.64.0.0', 10],
  ['fc00::', 7],
  ['fe80::', 10],
  ['::1', 128],
];

const familyOf = (address: string): 'ipv4' | 'ipv6' => (isIPv6(address) ? 'ipv6' : 'ipv4');

const privateAddresses = new BlockList();
for (const [network, bits] of PRIVATE_RANGES) privateAddresses.addSubnet(network, bits, familyOf(network));

const isLocalName = (name: string): boolean =>
  LOCAL_DOMAINS.some((domain) => name === domain || name.endsWith(`.${domain}`));

/** Names and addresses beyond the local ones, which the authority must name one by one. */
const withoutLocal = ({ addresses, dns }: ServerNames): ServerNames => ({
  dns: dns.filter((name) => !isLocalName(name)),
  addresses: addresses.filter((address) => !privateAddresses.check(address, familyOf(address))),
});

export function nameConstraints(names: ServerNames): Extension {
  const own = withoutLocal(names);
  const ranges = [
    ...PRIVATE_RANGES,
    ...own.addresses.map((address): Range => [address, isIPv6(address) ? 128 : 32]),
  ];
  const permitted = [
    ...[...LOCAL_DOMAINS, ...own.dns].map((dNSName) => new GeneralName({ dNSName })),
    ...ranges.map(([network, bits]) => new GeneralName({ iPAddress: `${network}/${bits}` })),
  ].map((base) => new GeneralSubtree({ base }));
  const value = AsnConvert.serialize(
    new NameConstraints({ permittedSubtrees: new GeneralSubtrees(permitted) }),
  );
  return new Extension(ID_NAME_CONSTRAINTS, true, value);
}

/** Those of `names` that an authority with this extension may vouch for. */
export function vouchedFor(names: ServerNames, constraints: Extension | null): ServerNames {
  if (constraints === null) return names;
  const { permittedSubtrees = [] } = AsnConvert.parse(constraints.value, NameConstraints);
  const bases = [...permittedSubtrees].map(({ base }) => base);
  const beyond = withoutLocal(names);
  const isNamed = (name: string): boolean =>
    bases.some(({ dNSName }) => dNSName !== undefined && (name === dNSName || name.endsWith(`.${dNSName}`)));
  const isInRange = (address: string): boolean => {
    const range = new BlockList();
    for (const { iPAddress } of bases) {
      const [network = '', bits = ''] = iPAddress?.split('/') ?? [];
      if (network !== '' && familyOf(network) === familyOf(address))
        range.addSubnet(network, Number(bits), familyOf(network));
    }
    return range.check(address, familyOf(address));
  };
  return {
    dns: names.dns.filter((name) => !beyond.dns.includes(name) || isNamed(name)),
    addresses: names.addresses.filter((address) => !beyond.addresses.includes(address) || isInRange(address)),
  };
}
