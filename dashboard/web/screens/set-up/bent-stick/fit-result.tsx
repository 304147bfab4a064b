// What the readings show: the verdict first, then the values with their errors, the curves, and the way to put them in.

import { useId, useState } from 'preact/hooks';
import type { BentStickView, Fitted } from '../../../../api/bent-stick.ts';
import { ActButton } from '../../../base/act-button.tsx';
import { DataTable } from '../../../base/data-table.tsx';
import { formatNumber, formatTemperature } from '../../../base/format.ts';
import { type MessageKey, t, word } from '../../../base/messages.ts';
import { reader } from '../../../live/lab-state.ts';
import { type SchemaForm, TextField } from '../../../forms/schema-fields.tsx';
import { OpeningChart } from './opening-chart.tsx';
import { submitWith } from '../../../forms/submit-with.ts';

type Value = 'finalOpeningMillimetres' | 'tauHours' | 'beta' | 'activationEnergyKilojoules';
const VALUES: readonly (readonly [Value, MessageKey, digits: number])[] = [
  ['tauHours', 'bent-stick.tau', 2],
  ['beta', 'bent-stick.beta', 3],
  ['activationEnergyKilojoules', 'bent-stick.energy', 1],
  ['finalOpeningMillimetres', 'bent-stick.final', 2],
];
/** Beyond this an error only means that nothing is known. */
const HOPELESS = 1e4;

const amount = (value: number, digits: number): string =>
  Math.abs(value) > HOPELESS ? '–' : formatNumber(value, digits, reader.value);

/** As many digits as two figures of the error need, but no fewer than given. */
const digitsFor = (standardError: number, digits: number): number =>
  standardError > 0 ? Math.min(6, Math.max(digits, 1 - Math.floor(Math.log10(standardError)))) : digits;

interface FitResultProps {
  readonly form: SchemaForm;
  readonly fit: BentStickView;
  readonly busy: boolean;
  readonly onApply: (reason: string) => void;
}

export const FitResult = ({ form, fit, busy, onApply }: FitResultProps) => {
  const id = useId();
  const [reason, setReason] = useState('');
  const isFixed = fit.verdict === 'fixed';
  const shown = (part: keyof Fitted, [name, , least]: (typeof VALUES)[number]): string =>
    amount(fit[name][part], digitsFor(fit[name].standardError, least));
  return (
    <section class="fit-result" aria-labelledby={`${id}-verdict`}>
      <div role="status">
        <h2 id={`${id}-verdict`}>{t(isFixed ? 'bent-stick.fixed' : 'bent-stick.not-fixed')}</h2>
        {fit.applied && <p>{t('bent-stick.applied')}</p>}
        <ul class="doubts">
          {fit.doubts.map((doubt) => (
            <li key={doubt}>{word('doubt', doubt)}</li>
          ))}
        </ul>
      </div>
      <DataTable
        rows={VALUES}
        keyOf={([name]) => name}
        columns={{
          [t('figure.what')]: ([, label]) =>
            t(label, { temperature: formatTemperature(fit.referenceCelsius, reader.value, 0) }),
          [t('figure.value')]: { figures: (row) => shown('value', row) },
          [t('bent-stick.error')]: { figures: (row) => shown('standardError', row) },
          [t('bent-stick.interval')]: {
            figures: (row) => t('bent-stick.between', { low: shown('low', row), high: shown('high', row) }),
          },
        }}
      />
      <p class="dim">
        {t('bent-stick.scatter', {
          scatter: amount(fit.scatterMillimetres, 3),
          readings: fit.residuals.length,
        })}
      </p>
      <OpeningChart fit={fit} />
      {isFixed && !fit.applied && (
        <form class="fit-apply" onSubmit={submitWith(() => onApply(reason.trim()))}>
          <p>{t('bent-stick.apply-explain')}</p>
          <TextField form={form} at="reason" label="bent-stick.reason" value={reason} onChange={setReason} />
          <p class="row">
            <ActButton text={t('bent-stick.apply')} isFirst disabled={busy} />
          </p>
        </form>
      )}
    </section>
  );
};
