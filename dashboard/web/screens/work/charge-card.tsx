// One charge of wax: how much of its allowance is used, when it will be spent, and what would spare it.

import type { DoseCurveView, ChargeView } from '../../../api/charges.ts';
import type { LotView } from '../../../api/lots.ts';
import { formatDay, formatDifference, formatNumber, formatPercent } from '../../base/format.ts';
import { t, waxName, word } from '../../base/messages.ts';
import { reader } from '../../live/lab-state.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { Refusal } from '../../forms/saving.tsx';
import { ChargeLots } from './charge-lots.tsx';
import { DoseChart } from './dose-chart.tsx';
import { LotShares } from './lot-shares.tsx';
import { TakeBack } from './take-back.tsx';
import { instantText } from '../../live/instant-text.ts';

/** Less than this is not worth a change of habit. */
const LEAST_SAVING = 0.02;

const Course = ({ course, name }: { readonly course: DoseCurveView; readonly name: string }) => (
  <>
    <DoseChart course={course} name={name} />
    <p>
      {course.spentAt === null
        ? t('work.forecast-none')
        : t('work.forecast', { day: formatDay(course.spentAt, reader.value) })}
    </p>
    {course.cooler !== null && course.cooler.share >= LEAST_SAVING && (
      <p>
        {t('work.suggest-cooler', {
          difference: formatDifference(course.cooler.celsius, reader.value, 0),
          share: formatPercent(course.cooler.share, reader.value),
        })}
      </p>
    )}
    {course.outsideHours !== null && course.outsideHours >= LEAST_SAVING && (
      <p>{t('work.suggest-hours', { share: formatPercent(course.outsideHours, reader.value) })}</p>
    )}
  </>
);

export const ChargeCard = ({
  charge,
  lots,
  link = true,
}: {
  readonly charge: ChargeView;
  readonly lots: readonly LotView[];
  readonly link?: boolean;
}) => {
  const curve = useLoaded<DoseCurveView>(`/api/charges/${encodeURIComponent(charge.id)}/curve`);
  const { value: course } = curve;
  const newestTopUp = charge.topUps.at(-1);
  return (
    <article class="charge-card">
      <h2>{link ? <a href={`/s/${charge.station}`}>{charge.stationName}</a> : t('work.dose')}</h2>
      <p>
        {waxName(charge.wax)} · {formatNumber(charge.grams, 0, reader.value)} g · {t('station.charge-since')}{' '}
        {instantText(charge.startedAt)}
      </p>
      <div class="charge-course" data-coming={course === null && curve.trouble === null}>
        <Refusal trouble={curve.trouble} retry={curve.reload} />
        {course !== null && charge.doseShare !== null && charge.doseEquivalentHours !== null && (
          <p class="work-verdict">
            {t('work.dose-line', {
              hours: formatNumber(charge.doseEquivalentHours, 1, reader.value),
              allowance: formatNumber(course.allowanceEquivalentHours, 0, reader.value),
              share: formatPercent(charge.doseShare, reader.value),
            })}
          </p>
        )}
        {course !== null && (
          <p class="dim">
            {t('work.allowance')}: {word('standing', course.allowanceStanding)}
          </p>
        )}
        {course !== null && <Course course={course} name={charge.stationName} />}
      </div>
      <p class="dim">
        {t('work.top-ups')}: {charge.topUps.length}
        {newestTopUp !== undefined &&
          ` (${instantText(newestTopUp.at)}, ${newestTopUp.by}, ${formatPercent(newestTopUp.fraction, reader.value)})`}
        {charge.cleanedAt !== null && ` · ${t('work.cleaned-at')}: ${instantText(charge.cleanedAt)}`}
      </p>
      {charge.lots.some(({ name }) => name !== null) && (
        <p class="dim">
          {t('work.lots')}: <LotShares lots={charge.lots} />
        </p>
      )}
      {charge.topUps.length > 0 && (
        <p class="dim">
          {t('work.ages')}:{' '}
          {charge.ages
            .map(({ fromDays, share }) =>
              t('work.ages-line', { share: formatPercent(share, reader.value), days: fromDays }),
            )
            .join(', ')}
        </p>
      )}
      <ChargeLots key={JSON.stringify([charge.lot, charge.topUps])} charge={charge} lots={lots} />
      <TakeBack charge={charge} />
    </article>
  );
};
