// One station in the record of a span: readings, the limits that held, what went beyond them, alarms, probes.

import type { EvidenceExcursion, EvidencePlace } from '../../../api/evidence.ts';
import {
  beyondTable,
  limitsTable,
  probeTable,
  type RecordTable,
  readingsTable,
} from '../../../reports/evidence/place-tables.ts';
import type { Reader } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { Excursions } from './evidence-excursions.tsx';
import { Recorded, recordWords } from './recorded.tsx';

interface PlaceProps {
  readonly place: EvidencePlace;
  readonly zoned: Reader;
}

const Part = ({ table }: { readonly table: RecordTable }) => (
  <>
    <h4>{t(table.heading)}</h4>
    <Recorded table={table} />
  </>
);

export const EvidencePlaceCard = (
  props: PlaceProps & { readonly step: 'day' | 'month'; readonly onSigned: () => void },
) => {
  const { place, zoned, step, onSigned } = props;
  const words = recordWords(zoned);
  return (
    <section>
      <h3>{`${place.name} (${word('kind', place.kind)})`}</h3>
      <Part table={readingsTable(place, step, words)} />
      <Part table={limitsTable(place, words)} />
      <Part table={beyondTable(place, words)} />
      <h4>{t('evidence.excursions')}</h4>
      <Excursions excursions={place.excursions} zoned={zoned} onSigned={onSigned} />
      <Part table={probeTable(place, words)} />
    </section>
  );
};

/** What belongs to no station; nothing where there is none. */
export const EvidenceElsewhere = (props: {
  readonly excursions: readonly EvidenceExcursion[];
  readonly zoned: Reader;
  readonly onSigned: () => void;
}) =>
  props.excursions.length === 0 ? null : (
    <section>
      <h3>{t('evidence.elsewhere')}</h3>
      <Excursions {...props} />
    </section>
  );
