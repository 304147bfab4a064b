// Who may do what, as one table. A route names the permission that it needs; nothing else counts.

import { ROLES } from '../../../lab/person.ts';

/** `screen` is a wall opened by its link; `demo-visitor` whoever opens the demonstration on the same machine. */
const STANDPOINTS = [...ROLES, 'screen', 'demo-visitor'] as const;
export type Standpoint = (typeof STANDPOINTS)[number];

export const PERMISSIONS = {
  /** What hangs on the wall for everyone in the room. */
  'see-wall': ['viewer', 'technician', 'manager', 'screen', 'demo-visitor'],
  /** Everything else that is read: patterns, charges, quarantine, the lab's figures. */
  read: ['viewer', 'technician', 'manager', 'demo-visitor'],
  'handle-alarms': ['technician', 'manager', 'demo-visitor'],
  'tend-stations': ['technician', 'manager', 'demo-visitor'],
  'tend-patterns': ['technician', 'manager', 'demo-visitor'],
  'set-up-lab': ['manager'],
  'manage-people': ['manager'],
  'read-audit': ['manager'],
  /** One's own password, sessions and preferences; only persons have them. */
  'own-account': ['viewer', 'technician', 'manager'],
} as const satisfies Record<string, readonly Standpoint[]>;

export type Permission = keyof typeof PERMISSIONS;
export const ALL_PERMISSIONS = Object.keys(PERMISSIONS) as readonly Permission[];
/** `nothing` marks what must work before anyone has signed in. */
export type Need = Permission | 'nothing';

const ALLOWED: Readonly<Record<Permission, ReadonlySet<Standpoint>>> = Object.fromEntries(
  Object.entries(PERMISSIONS).map(([permission, standpoints]) => [
    permission,
    new Set<Standpoint>(standpoints),
  ]),
) as Record<Permission, Set<Standpoint>>;

export const mayDo = (standpoint: Standpoint, permission: Permission): boolean =>
  ALLOWED[permission].has(standpoint);

/** A token that leaks must not be able to make further tokens or people. */
export const PERSONS_ONLY: ReadonlySet<Permission> = new Set(['manage-people', 'own-account']);

/** After half an hour without one of these the password is required again, so that a desk left open is no key. */
export const ASKS_PASSWORD_AGAIN: ReadonlySet<Permission> = new Set(['set-up-lab', 'manage-people']);
