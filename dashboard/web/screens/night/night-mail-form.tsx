// The night sheet by e-mail: when it is sent, to whom and on which paper.

import { ClockInput } from '../../forms/written-time-inputs.tsx';
import { useId, useState } from 'preact/hooks';
import type { NightDelivery, NightDeliveryView } from '../../../api/night-delivery.ts';
import type { PersonView } from '../../../api/people.ts';
import { ActButton } from '../../base/act-button.tsx';
import { asRead, put } from '../../base/api.ts';
import { t } from '../../base/messages.ts';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import '../../forms/choice.css';
import { submitWith } from '../../forms/submit-with.ts';

const USUAL_TIME = '08:00';
const WHEN = ['off', 'opening', 'set'] as const;
type When = (typeof WHEN)[number];

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

const Time = ({ setting, change }: PartProps) => {
  const id = useId();
  return (
    <>
      <label class="field">
        {t('night.delivery-when')}
        <select
          value={whenOf(setting.time)}
          onChange={({ currentTarget: { value } }) => change({ time: value === 'set' ? USUAL_TIME : value })}
        >
          {WHEN.map((when) => (
            <option key={when} value={when}>
              {whenText(when)}
            </option>
          ))}
        </select>
      </label>
      {whenOf(setting.time) === 'set' && (
        <p class="field">
          <label for={id}>{t('night.delivery-time')}</label>
          <ClockInput
            id={id}
            required
            value={setting.time}
            onChange={(time) => {
              if (time !== '') change({ time });
            }}
          />
        </p>
      )}
    </>
  );
};

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

const Paper = ({ setting, change }: PartProps) => (
  <label class="field">
    {t('night.delivery-paper')}
    <select
      value={setting.paper}
      onChange={({ currentTarget }) => change({ paper: currentTarget.value === 'letter' ? 'letter' : 'a4' })}
    >
      <option value="a4">{'A4'}</option>
      <option value="letter">{'Letter'}</option>
    </select>
  </label>
);

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
      <Paper setting={setting} change={change} />
      <p class="row">
        <ActButton text={t('night.delivery-save')} disabled={saving.busy} />
        <span role="status">{isSaved ? t('night.delivery-saved') : ''}</span>
      </p>
      <Refusal trouble={saving.refusal} retry={saving.retry} />
    </form>
  );
};
