// A lot of wax as it is read off the pack: maker, number, expiry.

import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { LotBody, LotView } from '../../../api/lots.ts';
import { asRead, put, send } from '../../base/api.ts';
import { SubmitRow } from '../../forms/saving.tsx';
import { ChoiceField, TextField } from '../../forms/schema-fields.tsx';
import { useForm } from '../../forms/use-form.ts';
import { submitWith } from '../../forms/submit-with.ts';

const EMPTY = { wax: 'inlay-type-2', maker: '', lot: '', expiresOn: '' } as const;

export const LotForm = (props: {
  /** Absent: a new one. */
  readonly lot?: LotView;
  readonly version?: number | null;
  readonly onSaved: (saved: LotView) => void;
}) => {
  const { lot, version = null, onSaved } = props;
  const { saving, draft, change, field } = useForm<Record<keyof typeof EMPTY, string>>(
    FORM_FIELDS.lot,
    lot === undefined ? EMPTY : { ...lot, wax: lot.wax.id, expiresOn: lot.expiresOn ?? '' },
  );
  const save = (): void => {
    const { wax, maker, lot: number, expiresOn } = draft;
    const body = {
      wax: wax as LotBody['wax'],
      maker,
      lot: number,
      expiresOn: expiresOn === '' ? null : expiresOn,
    };
    void saving.run(
      () =>
        lot === undefined
          ? send<LotView>('/api/lots', body)
          : put<LotView>(`/api/lots/${lot.id}`, body, asRead(version)),
      (saved) => {
        if (lot === undefined) change({ ...EMPTY, wax });
        onSaved(saved);
      },
    );
  };
  return (
    <form class="work-form work-narrow" onSubmit={submitWith(save)}>
      <TextField {...field('maker')} label="lots.maker" />
      <TextField {...field('lot')} label="lots.number" />
      <ChoiceField {...field('wax')} label="station.wax" words="wax" />
      <TextField {...field('expiresOn')} label="lots.expires" type="date" />
      <SubmitRow saving={saving} label="lots.save" />
    </form>
  );
};
