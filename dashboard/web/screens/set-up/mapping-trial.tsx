// What a mapping makes of the newest real messages of its topic.

import type { MappingTrial } from '../../../api/payload-mappings.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatSignificant, formatTemperature } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { reader } from '../../live/lab-state.ts';
import { deviceStatusText } from '../common/station/device-status-text.ts';
import { instantText } from '../../live/instant-text.ts';

type Tried = MappingTrial[number];

const readingText = ({ probe, unit, value }: Tried['readings'][number]): string => {
  const measured =
    unit === 'Cel'
      ? formatTemperature(value, reader.value)
      : `${formatSignificant(value, reader.value)} ${unit === 'Ohm' ? 'Ω' : unit}`;
  return `${probe}: ${measured}`;
};

const statusText = ({ probe, ...status }: Tried['statuses'][number]): string =>
  `${probe}: ${deviceStatusText(status)}`;

const outcome = ({ isCut, readings, statuses, problems }: Tried): string =>
  isCut
    ? t('mapping.cut')
    : [...readings.map(readingText), ...statuses.map(statusText), ...problems].join('; ');

export const TrialOutcome = ({ trial }: { readonly trial: MappingTrial }) =>
  trial.length === 0 ? (
    <p role="status">{t('mapping.no-messages')}</p>
  ) : (
    <DataTable
      rows={trial}
      keyOf={(tried) => `${tried.topic} ${tried.at}`}
      columns={{
        [t('quarantine.topic')]: (tried) => <span class="sample">{tried.topic}</span>,
        [t('quarantine.last')]: (tried) => instantText(tried.at),
        [t('mapping.becomes')]: outcome,
      }}
    />
  );
