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
    rows={records}
    keyOf={({ number }) => String(number)}
    columns={{
      [t('training.person')]: ({ person }) => person,
      [t('training.procedure')]: ({ edition, procedure, withdrawn }) =>
        [
          edition === null ? procedure : `${procedure}, ${edition}`,
          ...(withdrawn === null ? [] : [t('training.withdrawn', { ...withdrawn })]),
        ].join('; '),
      // A day of the lab's calendar, whatever the zone.
      [t('training.day')]: ({ day }) => formatDay(day, { ...zoned, timeZone: 'UTC' }),
      [t('training.shown-by')]: ({ shownBy }) => shownBy,
      ...(actOf && { [t('set-up.acts')]: actOf }),
    }}
  />
);
