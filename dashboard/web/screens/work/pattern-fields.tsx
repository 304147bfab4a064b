// What is entered for a new pattern, drawn from the schema of the request.

import { looksLikeName } from '../../../../lab/patterns/case-reference.ts';
import type { ChargeView } from '../../../api/charges.ts';
import type { StationView } from '../../../api/schemas.ts';
import { t } from '../../base/messages.ts';
import { ChoiceEntry } from '../../forms/entries.tsx';
import {
  ChoiceField,
  fieldsOf,
  NumberField,
  type SchemaForm,
  TextField,
  TickField,
} from '../../forms/schema-fields.tsx';
import { LotChoice, useLots } from './lot-choice.tsx';
import { LotShares } from './lot-shares.tsx';

export interface PatternFacts {
  readonly wax: string;
  readonly technique: string;
  /** Null while nothing is entered. */
  readonly lengthMillimetres: number | null;
  readonly toleranceMicrometres: number | null;
  readonly station: string;
  readonly kind: string;
  readonly origin: string;
  readonly softening: string;
  readonly isMadeOnDie: boolean;
  /** Station whose charge the wax came from; empty: straight from the pack; null: as its origin suggests. */
  readonly pot: string | null;
  /** Of wax from the pack; empty: not recorded. */
  readonly lot: string;
}

/** The pots that hold this wax, and the one that it was taken from. */
export const wayOfWax = ({ wax, origin, pot }: PatternFacts, charges: readonly ChargeView[]) => {
  const pots = charges.filter((charge) => charge.endedAt === null && charge.wax.id === wax);
  const suggested = pot === null && (origin === 'pot' || origin === 'dip') ? pots[0] : undefined;
  return { pots, charge: pots.find(({ station }) => station === pot) ?? suggested };
};

const WaxFields = (props: {
  readonly form: SchemaForm;
  readonly facts: PatternFacts;
  readonly charges: readonly ChargeView[];
  readonly change: (part: Partial<PatternFacts>) => void;
}) => {
  const { form, facts, change } = props;
  const { pots, charge } = wayOfWax(facts, props.charges);
  const lots = useLots();
  return (
    <>
      <ChoiceField
        form={form}
        at="wax"
        label="station.wax"
        words="wax"
        value={facts.wax}
        onChange={(wax) => change({ wax, lot: '' })}
      />
      {pots.length > 0 && (
        <ChoiceEntry
          label="work.from-charge"
          value={charge?.station ?? ''}
          options={[
            ['', t('work.from-pack')],
            ...pots.map(({ station, stationName }) => [station, stationName] as const),
          ]}
          onChange={(pot) => change({ pot })}
          error={form.saving.errorAt('charge')?.detail ?? null}
        />
      )}
      {charge === undefined ? (
        <LotChoice
          error={form.saving.errorAt('lot')?.detail ?? null}
          lots={lots}
          wax={facts.wax}
          value={facts.lot}
          onChange={(lot) => change({ lot })}
        />
      ) : (
        charge.lots.length > 0 && (
          <p class="dim">
            <LotShares lots={charge.lots} />
          </p>
        )
      )}
    </>
  );
};

export const CaseField = (props: {
  readonly form: SchemaForm;
  readonly value: string;
  readonly onChange: (text: string) => void;
}) => (
  <TextField
    {...props}
    at="caseReference"
    label="work.case"
    hasFocus
    hint={<span role="status">{looksLikeName(props.value) ? t('work.case-name') : ''}</span>}
  />
);

export const FactFields = (props: {
  readonly form: SchemaForm;
  readonly facts: PatternFacts;
  readonly charges: readonly ChargeView[];
  readonly places: readonly StationView[];
  readonly change: (part: Partial<PatternFacts>) => void;
}) => {
  const { form, facts, change } = props;
  const field = fieldsOf(form, facts, change);
  return (
    <>
      <ChoiceEntry
        label="work.lies"
        value={facts.station}
        options={props.places.map(({ id, name }) => [id, name])}
        onChange={(station) => change({ station })}
        error={form.saving.errorAt('station')?.detail ?? null}
      />
      <WaxFields form={form} facts={facts} charges={props.charges} change={change} />
      <ChoiceField {...field('kind')} label="work.kind" words="pattern-kind" />
      <ChoiceField {...field('origin')} label="work.origin" words="origin" />
      <ChoiceField
        {...field('softening')}
        label="work.softening"
        words="softening"
        none="work.softening-none"
      />
      <TickField {...field('isMadeOnDie')} label="work.made-on-die" />
      <ChoiceField {...field('technique')} label="work.technique" words="technique" />
      <NumberField {...field('lengthMillimetres')} label="work.length" />
      <NumberField {...field('toleranceMicrometres')} label="work.tolerance" />
    </>
  );
};
