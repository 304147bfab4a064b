// What the audit trail is about, as the codes that are in its rows. No schema library: the screens load it.

export const AUDIT_ENTITIES = [
  'station',
  'probe',
  'site',
  'wax-class',
  'lab',
  'pattern',
  'lot',
  'casting-material',
  'alarm',
  'night',
  'night-post',
  'retention',
  'telling',
  'phone',
  'person',
  'access-key',
  'training',
  'gateway',
  'mapping',
  'group-link',
  'group-offer',
  'connections',
] as const;
export type AuditEntity = (typeof AUDIT_ENTITIES)[number];

/** What a lab file may change. */
export const IN_LAB_FILE: readonly AuditEntity[] = [
  'site',
  'station',
  'probe',
  'wax-class',
  'person',
  'telling',
];
