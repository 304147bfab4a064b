// The values of the wax classes: each with its standing and source, and over it the lab's own value.

import { useState } from 'preact/hooks';
import type { LabView, WaxClassView } from '../../../api/lab-bodies.ts';
import { asRead, put } from '../../base/api.ts';
import { t, waxName } from '../../base/messages.ts';
import { ChoiceEntry, TextEntry } from '../../forms/entries.tsx';
import { labChanged, useLab, useLoaded } from '../../live/use-loaded.ts';
import { type Opened, OpenedForm } from '../../forms/opened-form.tsx';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { WaxFigures } from '../common/wax-figures.tsx';
import { WaxValueForm, type WaxValues } from '../common/wax-value-form.tsx';

interface OwnValueProps {
  readonly wax: WaxClassView;
  readonly lab: LabView;
  readonly opened: Opened<number>;
}

const OwnValue = ({ wax, lab, opened: { version, takeSaved } }: OwnValueProps) => {
  // As the lab holds them at its version: the classes are read apart from it.
  const own = lab.waxOverrides[wax.id] ?? {};
  const saving = useSaving();
  const [reason, setReason] = useState('');
  const save = (after: WaxValues): void => {
    const putAsRead = (body: object) => put(`/api/wax-classes/${wax.id}/overrides`, body, asRead(version));
    void saving.run(
      () => putAsRead({ values: after, ...(reason && { reason }) }),
      () => {
        takeSaved();
        labChanged();
        noteDone(t('waxes.saved'), () => putAsRead({ values: own }));
      },
    );
  };
  return (
    <section>
      <h2>{t('waxes.own')}</h2>
      <p class="dim">{t('waxes.own-hint')}</p>
      <WaxValueForm
        figures={wax.figures}
        entered={own}
        saving={saving}
        onSave={save}
        label="waxes.value"
        save="set-up.save"
        drop="waxes.back-to-table"
      >
        <TextEntry label="set-up.reason" hint={t('waxes.reason-hint')} value={reason} onChange={setReason} />
      </WaxValueForm>
    </section>
  );
};

export default function Waxes() {
  const classes = useLoaded<readonly WaxClassView[]>('/api/wax-classes');
  const lab = useLab();
  const [chosen, setChosen] = useState('inlay-type-2');
  const wax = classes.value?.find(({ id }) => id === chosen);
  return (
    <SetUpPage heading="waxes.title" explain="waxes.explain" needs="set-up-lab">
      <Refusal
        trouble={classes.trouble ?? lab.trouble}
        retry={classes.trouble ? classes.reload : lab.reload}
      />
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
          {lab.value && (
            <OpenedForm key={wax.id} newest={lab.value.version}>
              {(opened) => lab.value && <OwnValue wax={wax} lab={lab.value} opened={opened} />}
            </OpenedForm>
          )}
          <WaxFigures figures={wax.figures} />
        </>
      )}
    </SetUpPage>
  );
}
