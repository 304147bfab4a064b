// Records of training as a table; where it may be done, each has its way to be withdrawn.

import type { ComponentChildren } from 'preact';
import type { TrainingView } from '../../../api/training.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatDay, type Reader } from '../../base/format.ts';
import { t } from '../../base/messages.ts';

interface TrainingTableProps {
  readonly records: readonly TrainingView[];
  readonly zoned: Reader;
  readonly actOf?: (record: TrainingView) => ComponentChildren;
}

export const TrainingTable = ({ records, zoned, actOf }: TrainingTableProps) => (
  <DataTable
    columns={[
      t('training.person'),
      t('training.procedure'),
      t('training.day'),
      t('training.shown-by'),
      ...(actOf === undefined ? [] : [t('set-up.acts')]),
    ]}
    rows={records.map((record) => ({
      key: String(record.number),
      cells: [
        record.person,
        [
          record.edition === null ? record.procedure : `${record.procedure}, ${record.edition}`,
          ...(record.withdrawn === null ? [] : [t('training.withdrawn', { ...record.withdrawn })]),
        ].join('; '),
        // A day of the lab's calendar, whatever the zone.
        formatDay(record.day, { ...zoned, timeZone: 'UTC' }),
        record.shownBy,
        ...(actOf === undefined ? [] : [actOf(record)]),
      ],
    }))}
  />
);
