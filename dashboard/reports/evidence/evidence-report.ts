// The record of a span, put together. Pure: the same inputs give the same record and the same digest.

import type { AuditRowView } from '../../api/audit.ts';
import type { EvidenceReport } from '../../api/evidence.ts';
import type { TrainingView } from '../../api/training.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { GatheredEvidence } from './gather-evidence.ts';
import type { EvidenceSpan } from './evidence-span.ts';
import { localDate } from '../night/night-span.ts';
import { iso, isoOrNull } from '../../../wax/iso.ts';

/** Kinds of changes that bear on what was measured and how it was judged. */
export const JUDGING_ENTITIES = [
  'station',
  'probe',
  'site',
  'wax-class',
  'lab',
  'mapping',
  'retention',
  'telling',
] as const;
/** Of the whole lab: they belong to the record of every station. */
const LAB_WIDE = new Set<string>(['site', 'wax-class', 'lab', 'mapping', 'retention', 'telling']);
const MOST_CHANGES = 500;

export interface EvidenceInputs {
  readonly lab: Lab;
  readonly version: string;
  readonly madeAt: EpochMillis;
  readonly settingsSince: EpochMillis | null;
  readonly span: EvidenceSpan;
  readonly station: string | null;
  readonly gathered: GatheredEvidence;
  /** Of the judging entities, oldest first. */
  readonly changes: readonly Omit<AuditRowView, 'hash'>[];
  readonly auditHead: string | null;
  /** All, newest day first. */
  readonly training: readonly TrainingView[];
}

/** Words of a language, and what changes without a change of the figures. */
const NOT_IN_DIGEST = new Set(['message', 'name']);

export const evidenceReport = (
  inputs: EvidenceInputs,
  digest: (figures: unknown) => string,
): EvidenceReport => {
  const { lab, span, station, gathered } = inputs;
  const probes = new Set(gathered.places.flatMap((place) => place.probes.map(({ probe }) => probe)));
  const changes = inputs.changes.filter(
    ({ entity, entityId }) =>
      station === null ||
      LAB_WIDE.has(entity) ||
      (entity === 'station' ? entityId === station : probes.has(entityId)),
  );
  const lastDay = localDate(lab.site, (span.to - 1) as EpochMillis);
  const parts = {
    places: [...gathered.places],
    elsewhere: [...gathered.elsewhere],
    changes: changes.slice(0, MOST_CHANGES),
    // What somebody had been shown by then counts, however long ago.
    training: inputs.training.filter(({ day }) => day <= lastDay),
  };
  const figures = digest(
    JSON.parse(
      JSON.stringify([lab.site.id, span.from, span.to, parts], (key, value: unknown) =>
        NOT_IN_DIGEST.has(key) ? undefined : value,
      ),
    ),
  );
  return {
    lab: lab.site.name,
    site: lab.site.id,
    timeZone: lab.site.timeZone,
    from: iso(span.from),
    to: iso(span.to),
    madeAt: iso(inputs.madeAt),
    version: inputs.version,
    settingsSince: isoOrNull(inputs.settingsSince),
    step: span.step,
    ...parts,
    changesLeftOut: Math.max(0, changes.length - MOST_CHANGES),
    auditHead: inputs.auditHead,
    figures,
  };
};
