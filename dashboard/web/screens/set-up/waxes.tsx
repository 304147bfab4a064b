// The values of the wax classes: each with its standing and source, and over it what the lab knows better.

import { useState } from 'preact/hooks';
import type { WaxClassView } from '../../../api/lab-bodies.ts';
import { put } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatSignificant, formatTemperature } from '../../base/format.ts';
import { t, waxName, word } from '../../base/messages.ts';
import { sourceText } from '../../live/source-text.ts';
import { reader } from '../../live/lab-state.ts';
import { ChoiceEntry, NumberEntry, TemperatureEntry, TextEntry } from '../../forms/entries.tsx';
import { useLoaded } from '../../live/use-loaded.ts';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { isTemperature, waxValueName } from '../../forms/wax-value-name.ts';
import { submitWith } from '../../forms/submit-with.ts';

const shown = (name: string, value: number): string =>
  isTemperature(name) ? formatTemperature(value, reader.value) : formatSignificant(value, reader.value);

/** What a lab changes first: windows, ceilings, flow, expansion, how long a charge lasts. The rest is for whoever asks. */
const FIRST = /window|ceiling|flow|expansion|storage|dose/i;
const isFirst = ([name, { standing }]: readonly [string, WaxClassView['figures'][string]]): boolean =>
  FIRST.test(name) || standing === "lab's own";

const FigureTable = (props: {
  readonly figures: readonly (readonly [string, WaxClassView['figures'][string]])[];
}) => (
  <DataTable
    columns={[t('figure.what'), t('figure.value'), t('figure.standing'), t('figure.source')]}
    rows={props.figures.map(([name, figure]) => ({
      key: name,
      cells: [
        waxValueName(name, figure),
        <strong class="one-line">{shown(name, figure.value)}</strong>,
        word('standing', figure.standing),
        <span class="dim">{sourceText(figure.source, isTemperature(name))}</span>,
      ],
    }))}
  />
);

const OwnValue = (props: {
  readonly wax: WaxClassView;
  readonly onSaved: (before: Readonly<Record<string, number>>) => void;
}) => {
  const { wax } = props;
  const saving = useSaving();
  const [name, setName] = useState('ceiling');
  const [value, setValue] = useState<number | null>(null);
  const [reason, setReason] = useState('');
  const save = (values: Readonly<Record<string, number>>): void =>
    void saving.run(
      () => put(`/api/wax-classes/${wax.id}/overrides`, { values, ...(reason === '' ? {} : { reason }) }),
      () => {
        setValue(null);
        props.onSaved(wax.ownValues);
      },
    );
  const Entry = isTemperature(name);
  return (
    <form
      onSubmit={submitWith(() => {
        if (value !== null) save({ ...wax.ownValues, [name]: value });
      })}
    >
      <h2>{t('waxes.own')}</h2>
      <p class="dim">{t('waxes.own-hint')}</p>
      <div class="pair">
        <ChoiceEntry
          label="figure.what"
          value={name}
          options={Object.entries(wax.figures).map(([key, figure]) => [key, waxValueName(key, figure)])}
          onChange={setName}
        />
        {Entry ? (
          <TemperatureEntry label="waxes.value" required celsius={value} onCelsius={setValue} />
        ) : (
          <NumberEntry label="waxes.value" required value={value} onChange={setValue} />
        )}
        <TextEntry label="set-up.reason" hint={t('waxes.reason-hint')} value={reason} onChange={setReason} />
      </div>
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      <p class="row">
        <button type="submit" class="act" data-first="true" disabled={saving.busy}>
          {t('set-up.save')}
        </button>
        {Object.keys(wax.ownValues).map((own) => (
          <button
            key={own}
            type="button"
            class="act"
            onClick={() => {
              const { [own]: _, ...others } = wax.ownValues;
              save(others);
            }}
          >
            {t('waxes.back-to-table', { name: waxValueName(own) })}
          </button>
        ))}
      </p>
    </form>
  );
};

export default function Waxes() {
  const classes = useLoaded<readonly WaxClassView[]>('/api/wax-classes');
  const [chosen, setChosen] = useState('inlay-type-2');
  const wax = classes.value?.find(({ id }) => id === chosen);
  return (
    <SetUpPage heading="waxes.title" explain="waxes.explain" needs="set-up-lab">
      <Refusal trouble={classes.trouble} retry={classes.reload} />
      {classes.value && (
        <ChoiceEntry
          label="station.wax"
          value={chosen}
          options={classes.value.map((each) => [each.id, waxName(each)])}
          onChange={setChosen}
        />
      )}
      {wax && (
        <>
          <OwnValue
            key={wax.id}
            wax={wax}
            onSaved={(before) => {
              classes.reload();
              noteDone(t('waxes.saved'), () =>
                put(`/api/wax-classes/${wax.id}/overrides`, { values: before }),
              );
            }}
          />
          <FigureTable figures={Object.entries(wax.figures).filter(isFirst)} />
          <details>
            <summary>{t('waxes.further')}</summary>
            <FigureTable figures={Object.entries(wax.figures).filter((figure) => !isFirst(figure))} />
          </details>
        </>
      )}
    </SetUpPage>
  );
}
