// Messages that could not be read: which topic, why, how often, and the start of the newest as it came.

import type { QuarantineView } from '../../../api/schemas.ts';
import { DataTable } from '../../base/data-table.tsx';
import { t } from '../../base/messages.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { useLoaded } from '../../live/use-loaded.ts';
import { sampleText } from './sample-text.ts';
import '../common/station/overview.css';
import { useTitle } from '../../base/use-title.ts';
import { instantText } from '../../live/instant-text.ts';

const REFRESH_MILLIS = 15_000;

export default function Quarantine() {
  const { value: rows, trouble: failed } = useLoaded<readonly QuarantineView[]>('/api/quarantine', {
    everyMillis: REFRESH_MILLIS,
  });
  useTitle(() => t('quarantine.title'));
  return (
    <>
      <h1>{t('quarantine.title')}</h1>
      <p>{t('quarantine.explain')}</p>
      {failed && <TroubleNote trouble={failed} />}
      {rows !== null && rows.length === 0 && <p class="all-well">{t('quarantine.empty')}</p>}
      {rows !== null && rows.length > 0 && (
        <DataTable
          rows={rows}
          keyOf={({ topic, code }) => `${topic} ${code}`}
          columns={{
            [t('quarantine.topic')]: ({ topic }) => <span class="sample">{topic}</span>,
            [t('quarantine.reason')]: ({ reason, offending, code }) => (
              <>
                {reason} {offending !== undefined && <span class="sample">{offending}</span>}{' '}
                <span class="dim">{code}</span>
              </>
            ),
            [t('quarantine.count')]: { figures: ({ count }) => count },
            [t('quarantine.last')]: ({ lastAt }) => instantText(lastAt),
            [t('quarantine.sample')]: ({ sampleBase64, bytes }) => (
              <>
                <span class="sample">{sampleText(sampleBase64)}</span>{' '}
                <span class="dim">{t('quarantine.bytes', { count: bytes })}</span>
              </>
            ),
          }}
        />
      )}
    </>
  );
}
