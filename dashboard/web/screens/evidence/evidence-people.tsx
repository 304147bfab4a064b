// Who changed what in the span, and who had been shown what by its end.

import type { EvidenceReport } from '../../../api/evidence.ts';
import { changedFields } from '../../../api/changed-fields.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatInstant, type Reader } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { now } from '../../live/lab-state.ts';
import { TrainingTable } from './training-table.tsx';

interface ReportProps {
  readonly report: EvidenceReport;
  readonly zoned: Reader;
}

export const EvidenceChanges = ({ report, zoned }: ReportProps) => (
  <section>
    <h3>{t('evidence.changes')}</h3>
    {report.changes.length === 0 ? (
      <p>{t('evidence.changes-none')}</p>
    ) : (
      <DataTable
        columns={[
          t('evidence.when'),
          t('evidence.who'),
          t('evidence.what'),
          t('evidence.change'),
          t('evidence.reason'),
        ]}
        rows={report.changes.map((row) => ({
          key: String(row.sequence),
          cells: [
            formatInstant(row.at, now.peek(), zoned),
            `${row.actor} (${word('role', row.role)})`,
            `${word('action', row.action)} ${row.entityId}`,
            changedFields(row.before, row.after)
              .map(({ field, before, after }) => `${field}: ${before ?? '–'} → ${after ?? '–'}`)
              .join('; ') || '–',
            row.reason ?? '–',
          ],
        }))}
      />
    )}
    {report.changesLeftOut > 0 && <p>{t('evidence.changes-more', { count: report.changesLeftOut })}</p>}
  </section>
);

export const EvidenceTraining = ({ report, zoned }: ReportProps) => (
  <section>
    <h3>{t('evidence.training')}</h3>
    {report.training.length === 0 ? (
      <p>{t('evidence.training-none')}</p>
    ) : (
      <TrainingTable records={report.training} zoned={zoned} />
    )}
  </section>
);
