// Who changed what in the span, and who had been shown what by its end.

import type { EvidenceReport } from '../../../api/evidence.ts';
import { changesTable } from '../../../reports/evidence/change-table.ts';
import type { Reader } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { Recorded, recordWords } from './recorded.tsx';
import { TrainingTable } from './training-table.tsx';

interface ReportProps {
  readonly report: EvidenceReport;
  readonly zoned: Reader;
}

export const EvidenceChanges = ({ report, zoned }: ReportProps) => (
  <section>
    <h3>{t('evidence.changes')}</h3>
    <Recorded table={changesTable(report, recordWords(zoned))} />
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
