// Who gets the night sheet by e-mail, and when: for managers, folded away until it is wanted.

import { useEffect, useState } from 'preact/hooks';
import type { NightPost, NightPostView } from '../../../api/night-post.ts';
import type { PersonView } from '../../../api/people.ts';
import { put, read, type Trouble } from '../../base/api.ts';
import { t, word } from '../../base/messages.ts';
import { mayDo } from '../../live/session.ts';
import { troubleText } from '../../live/trouble-note.tsx';

const USUAL_TIME = '08:00';
const WHEN = ['off', 'opening', 'set'] as const;
type When = (typeof WHEN)[number];

const whenText = (when: When): string => {
  switch (when) {
    case 'off':
      return t('night.post-off');
    case 'opening':
      return t('night.post-opening');
    case 'set':
      return t('night.post-set');
  }
};
const whenOf = (time: string): When => (time === 'off' || time === 'opening' ? time : 'set');

const Form = (props: { readonly before: NightPostView; readonly people: readonly PersonView[] }) => {
  const { before, people } = props;
  const [setting, setSetting] = useState<NightPost>({
    time: before.time,
    recipients: before.recipients,
    paper: before.paper,
  });
  const [refused, setRefused] = useState<Trouble | null>(null);
  const [saved, setSaved] = useState(false);
  const change = (next: Partial<NightPost>): void => {
    setSaved(false);
    setSetting({ ...setting, ...next });
  };
  const save = async (): Promise<void> => {
    const answer = await put<NightPostView>('/api/night-post', setting);
    setRefused(answer.ok ? null : answer.trouble);
    setSaved(answer.ok);
  };
  const reachable = people.filter(({ email }) => email !== null);
  return (
    <form
      class="sheet-form"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      <p class="dim">{t('night.post-explain')}</p>
      <label class="field">
        {t('night.post-when')}
        <select
          value={whenOf(setting.time)}
          onChange={({ currentTarget }) =>
            change({ time: currentTarget.value === 'set' ? USUAL_TIME : currentTarget.value })
          }
        >
          {WHEN.map((when) => (
            <option key={when} value={when}>
              {whenText(when)}
            </option>
          ))}
        </select>
      </label>
      {whenOf(setting.time) === 'set' && (
        <label class="field">
          {t('night.post-time')}
          <input
            type="time"
            required
            value={setting.time}
            onChange={({ currentTarget }) => change({ time: currentTarget.value || USUAL_TIME })}
          />
        </label>
      )}
      <fieldset class="choice">
        <legend>{t('night.post-to')}</legend>
        {reachable.length === 0 && <p>{t('night.post-nobody')}</p>}
        {reachable.map(({ id, name, email }) => (
          <label key={id} class="post-person">
            <input
              type="checkbox"
              checked={setting.recipients.includes(id)}
              onChange={({ currentTarget }) =>
                change({
                  recipients: currentTarget.checked
                    ? [...setting.recipients, id]
                    : setting.recipients.filter((one) => one !== id),
                })
              }
            />
            {`${name} (${email})`}
          </label>
        ))}
      </fieldset>
      <label class="field">
        {t('night.post-paper')}
        <select
          value={setting.paper}
          onChange={({ currentTarget }) =>
            change({ paper: currentTarget.value === 'letter' ? 'letter' : 'a4' })
          }
        >
          <option value="a4">{'A4'}</option>
          <option value="letter">{'Letter'}</option>
        </select>
      </label>
      <p class="row">
        <button type="submit" class="act">
          {t('night.post-save')}
        </button>
        <span role="status">{saved ? t('night.post-saved') : ''}</span>
      </p>
      {refused && <p role="alert">{troubleText(refused)}</p>}
      <ul>
        {before.sent.map((one) => (
          <li key={`${one.date}${one.person}`} class="dim">
            {`${one.date}, ${people.find(({ id }) => id === one.person)?.name ?? one.person}: ${word('post-state', one.state)} ${one.detail}`}
          </li>
        ))}
      </ul>
    </form>
  );
};

export const NightPostPanel = () => {
  const [open, setOpen] = useState(false);
  const [loaded, setLoaded] = useState<{ before: NightPostView; people: readonly PersonView[] } | null>(null);
  const [failed, setFailed] = useState<Trouble | null>(null);
  useEffect(() => {
    if (!open || loaded !== null) return;
    void Promise.all([
      read<NightPostView>('/api/night-post'),
      read<readonly PersonView[]>('/api/people'),
    ]).then(([before, people]) => {
      if (before.ok && people.ok) setLoaded({ before: before.value, people: people.value });
      else setFailed(before.ok ? (people.ok ? null : people.trouble) : before.trouble);
    });
  }, [open]);
  if (!mayDo('manage-people')) return null;
  return (
    <details class="night-post" onToggle={({ currentTarget }) => setOpen(currentTarget.open)}>
      <summary>{t('night.post')}</summary>
      {failed && <p role="alert">{troubleText(failed)}</p>}
      {loaded && <Form {...loaded} />}
    </details>
  );
};
