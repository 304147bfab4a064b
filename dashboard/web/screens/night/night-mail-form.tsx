// The night sheet by e-mail: when it is sent, to whom and on which paper.

import { useState } from 'preact/hooks';
import type { NightDelivery, NightDeliveryView } from '../../../api/night-delivery.ts';
import type { PersonView } from '../../../api/people.ts';
import { ActButton } from '../../base/act-button.tsx';
import { asRead, put } from '../../base/api.ts';
import { t } from '../../base/messages.ts';
import { ChoiceEntry, TextEntry } from '../../forms/entries.tsx';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import '../../forms/choice.css';
import { submitWith } from '../../forms/submit-with.ts';

const USUAL_TIME = '08:00';
const WHEN = ['off', 'opening', 'set'] as const;
type When = (typeof WHEN)[number];

const PAPERS = [
  ['a4', 'A4'],
  ['letter', 'Letter'],
] as const;

const whenText = (when: When): string => {
  switch (when) {
    case 'off':
      return t('night.delivery-off');
    case 'opening':
      return t('night.delivery-opening');
    case 'set':
      return t('night.delivery-set');
  }
};
const whenOf = (time: string): When => (time === 'off' || time === 'opening' ? time : 'set');

interface PartProps {
  readonly setting: NightDelivery;
  readonly change: (part: Partial<NightDelivery>) => void;
}

const Time = ({ setting, change }: PartProps) => (
  <>
    <ChoiceEntry
      label="night.delivery-when"
      value={whenOf(setting.time)}
      options={WHEN.map((when) => [when, whenText(when)])}
      onChange={(when) => change({ time: when === 'set' ? USUAL_TIME : when })}
    />
    {whenOf(setting.time) === 'set' && (
      <TextEntry
        label="night.delivery-time"
        type="time"
        required
        value={setting.time}
        onChange={(time) => {
          if (time !== '') change({ time });
        }}
      />
    )}
  </>
);

const Recipients = (props: PartProps & { readonly people: readonly PersonView[] }) => {
  const { setting, change } = props;
  const reachable = props.people.filter(({ email }) => email !== null);
  return (
    <fieldset class="choice">
      <legend>{t('night.delivery-to')}</legend>
      {reachable.length === 0 && <p>{t('night.delivery-nobody')}</p>}
      {reachable.map(({ id, name, email }) => (
        <label key={id} class="mail-person">
          <input
            type="checkbox"
            checked={setting.recipients.includes(id)}
            onChange={({ currentTarget }) => {
              const others = setting.recipients.filter((recipient) => recipient !== id);
              change({ recipients: currentTarget.checked ? [...others, id] : others });
            }}
          />
          {`${name} (${email})`}
        </label>
      ))}
    </fieldset>
  );
};

export const NightMailForm = (props: {
  readonly before: NightDeliveryView;
  readonly version: number | null;
  readonly people: readonly PersonView[];
}) => {
  const { time, recipients, paper } = props.before;
  const [setting, setSetting] = useState<NightDelivery>({ time, recipients, paper });
  const saving = useSaving();
  const [isSaved, setIsSaved] = useState(false);
  const change = (part: Partial<NightDelivery>): void => {
    setIsSaved(false);
    setSetting({ ...setting, ...part });
  };
  const save = (): void =>
    void saving.run(
      () => put<NightDeliveryView>('/api/night-delivery', setting, asRead(props.version)),
      () => setIsSaved(true),
    );
  return (
    <form class="sheet-form" onSubmit={submitWith(save)}>
      <p class="dim">{t('night.delivery-explain')}</p>
      <Time setting={setting} change={change} />
      <Recipients setting={setting} change={change} people={props.people} />
      <ChoiceEntry
        label="night.delivery-paper"
        value={setting.paper}
        options={PAPERS}
        onChange={(chosen) => change({ paper: chosen })}
      />
      <p class="row">
        <ActButton text={t('night.delivery-save')} disabled={saving.busy} />
        <span role="status">{isSaved ? t('night.delivery-saved') : ''}</span>
      </p>
      <Refusal trouble={saving.refusal} retry={saving.retry} />
    </form>
  );
};
