// The same table for spreadsheets of either region; that of the reader's own language comes first.

import { t } from '../../base/messages.ts';
import { formatNumber } from '../../base/format.ts';
import { reader } from '../../live/lab-state.ts';

/** `path` with its query. */
export const TableLinks = ({ path }: { readonly path: string }) => {
  const links = [
    <a key="comma" class="act" href={`${path}&separators=comma`} download>
      {t('night.csv-comma')}
    </a>,
    <a key="semicolon" class="act" href={`${path}&separators=semicolon`} download>
      {t('night.csv-semicolon')}
    </a>,
  ];
  const hasDecimalComma = formatNumber(0.5, 1, reader.value).includes(',');
  return <>{hasDecimalComma ? links.toReversed() : links}</>;
};
