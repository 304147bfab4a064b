// The lab's own proof: how measured fits agree with what was predicted, what they indicate, and what remakes had in
// common and cost.

import type { FitProofView } from '../../../api/fit-proof.ts';
import { ActButton } from '../../base/act-button.tsx';
import { asRead, put, send } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatNumber, formatPercent, formatTemperature } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { DoneNote, noteDone } from '../../forms/undo.tsx';
import { reader } from '../../live/lab-state.ts';
import { mayDo } from '../../live/session.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { useLab, useLoaded } from '../../live/use-loaded.ts';
import { nameOfPattern } from '../common/bench/patterns-due.ts';
import { factorName, factorValue, useOwnThings } from './factor-text.ts';
import { Remakes } from './remakes.tsx';
import '../../forms/work.css';
import { useTitle } from '../../base/use-title.ts';
import { instantText } from '../../live/instant-text.ts';

const number = (value: number, digits = 0): string => formatNumber(value, digits, reader.value);
const percent = (share: number): string => formatPercent(share, reader.value);
const stageText = (stage: string): string =>
  t(stage === 'casting' ? 'proof.stage-casting' : 'proof.stage-pattern');

const Agreement = ({ agreement }: { readonly agreement: FitProofView['agreements'][number] }) => {
  const { stage, pairs, least, biasMicrometres: bias, insideShare, insideLow, insideHigh } = agreement;
  return (
    <section>
      <h2>{stageText(stage)}</h2>
      <p class={bias === null ? '' : 'work-verdict'}>
        {bias === null
          ? t('proof.too-few', { pairs, least })
          : t('proof.agreement', {
              pairs,
              bias: number(bias),
              uncertainty: number(agreement.biasUncertaintyMicrometres ?? 0),
              spread: number(agreement.spreadMicrometres ?? 0),
              inside: percent(insideShare ?? 0),
              low: percent(insideLow ?? 0),
              high: percent(insideHigh ?? 0),
            })}
      </p>
    </section>
  );
};

type Calibration = FitProofView['recalibrations'][number];

const Recalibration = (props: {
  readonly calibration: Calibration;
  readonly onTaken: (after: FitProofView) => void;
}) => {
  const { calibration, onTaken } = props;
  const saving = useSaving();
  const lab = useLab();
  const { wax, technique, stage, strain, problem, presentStrain } = calibration;
  return (
    <li>
      <strong>{`${word('wax', wax)}, ${word('technique', technique)} (${stageText(stage)})`}</strong>
      <p>
        {strain === null
          ? word('proof-problem', problem ?? '')
          : t('proof.strain-line', {
              strain: number(100 * strain, 3),
              uncertainty: number(100 * (calibration.uncertainty ?? 0), 3),
              present: number(100 * presentStrain, 3),
              constant: number(calibration.constantMicrometres ?? 0),
              constantUncertainty: number(calibration.constantUncertaintyMicrometres ?? 0),
              spread: percent(calibration.spreadShare ?? 0),
            })}
      </p>
      {strain !== null && mayDo('set-up-lab') && (
        <p class="no-print">
          <ActButton
            text={t('proof.take')}
            disabled={saving.busy || lab.value === null}
            onClick={() =>
              void saving.run(
                () => send<FitProofView>('/api/fit-proof/recalibrate', { wax, technique, stage }),
                (after) => {
                  const values = lab.value?.waxOverrides[wax] ?? {};
                  const version = lab.value?.version ?? 0;
                  noteDone(t('proof.taken'), () =>
                    put(`/api/wax-classes/${wax}/overrides`, { values }, asRead(version)),
                  );
                  onTaken(after);
                },
              )
            }
          />
        </p>
      )}
      <Refusal trouble={saving.refusal} retry={saving.retry} />
    </li>
  );
};

type FitCase = FitProofView['cases'][number];

const measuredText = ({ gapMicrometres: gap, isPassed }: FitCase): string => {
  if (gap === null) return t('proof.passed');
  return t(isPassed ? 'proof.gap' : 'proof.gap-failed', { gap: number(gap) });
};
const predictedText = ({ predictedMicrometres: likely, lowMicrometres, highMicrometres }: FitCase): string =>
  likely === null
    ? '–'
    : t('work.error-band', {
        value: number(likely),
        low: number(lowMicrometres ?? likely),
        high: number(highMicrometres ?? likely),
      });

const Cases = ({ cases }: { readonly cases: readonly FitCase[] }) => {
  const things = useOwnThings();
  const history = ({ factors, storedHours, meanKineticCelsius }: FitCase): string =>
    [
      ...(storedHours === null ? [] : [t('proof.stored', { hours: number(storedHours, 1) })]),
      ...(meanKineticCelsius === null
        ? []
        : [t('proof.mean', { celsius: formatTemperature(meanKineticCelsius, reader.value) })]),
      ...Object.entries(factors)
        .filter(([name]) => name !== 'stored')
        .map(([name, value]) => `${factorName(name)}: ${factorValue(name, value, things)}`),
    ].join('; ');
  return (
    <DataTable
      rows={cases}
      keyOf={(fitCase) => `${fitCase.pattern} ${fitCase.stage}`}
      columns={{
        [t('work.case')]: (fitCase) => (
          <a href={`/p/${fitCase.pattern}`}>{nameOfPattern({ ...fitCase, id: fitCase.pattern })}</a>
        ),
        [t('lots.state')]: (fitCase) => stageText(fitCase.stage),
        [t('proof.measured')]: { figures: (fitCase) => <strong>{measuredText(fitCase)}</strong> },
        [t('proof.predicted')]: predictedText,
        [t('proof.when')]: (fitCase) => instantText(fitCase.measuredAt),
        [t('proof.history')]: (fitCase) => <span class="dim">{history(fitCase)}</span>,
      }}
    />
  );
};

export default function FitProof() {
  const { value, trouble, setValue } = useLoaded<FitProofView>('/api/fit-proof');
  useTitle(() => t('proof.title'));
  return (
    <div class="work">
      <h1>{t('proof.title')}</h1>
      <p class="dim">{t('proof.explain')}</p>
      <DoneNote />
      {trouble !== null && <TroubleNote trouble={trouble} />}
      {value?.cases.length === 0 && <p class="note">{t('proof.none')}</p>}
      {value !== null && (
        <>
          {value.cases.length > 0 &&
            value.agreements.map((agreement) => <Agreement key={agreement.stage} agreement={agreement} />)}
          {value.recalibrations.length > 0 && (
            <section>
              <h2>{t('proof.recalibrate')}</h2>
              <p class="dim">{t('proof.recalibrate-explain')}</p>
              <ul>
                {value.recalibrations.map((calibration) => (
                  <Recalibration
                    key={`${calibration.wax} ${calibration.technique} ${calibration.stage}`}
                    calibration={calibration}
                    onTaken={setValue}
                  />
                ))}
              </ul>
            </section>
          )}
          <Remakes remakes={value.remakes} />
          {value.cases.length > 0 && (
            <section>
              <h2>{t('proof.cases')}</h2>
              <Cases cases={value.cases} />
            </section>
          )}
        </>
      )}
    </div>
  );
}
