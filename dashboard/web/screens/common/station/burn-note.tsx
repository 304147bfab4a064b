// What contact with this heater has done to skin, by its ceiling: from the record, never advice on what is safe.

import { STATION_KIND_FACTS, type StationKind } from '../../../../../lab/station-kinds.ts';
import { type BurnCautionKey, burnCaution, TOUCH_NOTICE_CELSIUS } from '../../../../../wax/burn-caution.ts';
import type { Celsius } from '../../../../../wax/units.ts';
import { formatAge, formatLimit, unitMark } from '../../../base/format.ts';
import { type MessageKey, t, word } from '../../../base/messages.ts';
import { sourceText } from '../../../live/source-text.ts';
import { reader } from '../../../live/lab-state.ts';

interface BurnNoteProps {
  /** The hottest that the heater may be, °C. */
  readonly celsius: number;
  readonly kind: StationKind;
}

const degrees = (celsius: number): string =>
  `${formatLimit(celsius, reader.value)} ${unitMark(reader.value.unit)}`;

const RECORD: Readonly<Record<BurnCautionKey, MessageKey>> = {
  'burn-not-expected': 'burn.burn-not-expected',
  'burn-after-long-contact': 'burn.burn-after-long-contact',
  'burn-within-minutes': 'burn.burn-within-minutes',
  'burn-within-seconds': 'burn.burn-within-seconds',
  'burn-at-once': 'burn.burn-at-once',
};

/** Nothing at or below the temperature from which a notice is due. */
export const BurnNote = ({ celsius, kind }: BurnNoteProps) => {
  const { burnContact, holdsMeltedWax } = STATION_KIND_FACTS[kind];
  if (burnContact === null) return null;
  const caution = burnCaution(celsius as Celsius, burnContact, holdsMeltedWax);
  if (celsius <= TOUCH_NOTICE_CELSIUS.value || !caution.ok || caution.value.seconds === null) return null;
  const { key, seconds, clings } = caution.value;
  const record = t(RECORD[key], {
    temperature: degrees(celsius),
    time: formatAge(seconds.value, reader.value),
  });
  return (
    <span class="burn-note">
      {record} {clings && t('burn.clings')}{' '}
      {t('burn.notice', { temperature: degrees(TOUCH_NOTICE_CELSIUS.value) })}{' '}
      <span class="dim">
        {t('burn.source', {
          standing: word('standing', seconds.standing),
          source: sourceText(seconds.source),
        })}
      </span>
    </span>
  );
};
