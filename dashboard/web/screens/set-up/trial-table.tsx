// What was raised in the last days, on record and by the two replays of a trial, station by station; and whether the
// replay agrees with the record, by which the trial can be judged.

import type { TrialView } from '../../../api/trial.ts';
import { DataTable } from '../../base/data-table.tsx';
import { t } from '../../base/messages.ts';
import { useLab } from '../../live/use-loaded.ts';

interface TrialTableProps {
  readonly trial: TrialView;
  /** What the second replay was made with. */
  readonly tried: string;
}

const agreement = ({ recorded, stations }: TrialView): string => {
  if (recorded === null) return t('rule-figures.not-recorded');
  const differing = stations.filter((row) => row.recorded !== row.before).length;
  return differing === 0
    ? t('rule-figures.agrees')
    : t('rule-figures.disagrees', { differing, stations: stations.length });
};

export const TrialTable = ({ trial, tried }: TrialTableProps) => {
  const lab = useLab();
  const names = new Map((lab.value?.stations ?? []).map(({ id, name }) => [id, name]));
  const total = { station: '', recorded: trial.recorded, before: trial.before, after: trial.after };
  const rows = trial.stations.length > 1 ? [...trial.stations, total] : trial.stations;
  return (
    <>
      <DataTable
        rows={rows}
        keyOf={({ station }) => station}
        columns={{
          [t('probes.station')]: ({ station }) =>
            station === '' ? t('rule-figures.total') : (names.get(station) ?? station),
          [t('rule-figures.on-record')]: { figures: ({ recorded }) => recorded ?? '–' },
          [t('rule-figures.replayed', { settings: t('rule-figures.settings-now') })]: {
            figures: ({ before }) => before,
          },
          [t('rule-figures.replayed', { settings: tried })]: { figures: ({ after }) => after },
        }}
      />
      <p>{agreement(trial)}</p>
    </>
  );
};
