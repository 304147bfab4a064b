// Who gets the night sheet by e-mail, when, and what became of each: for managers, folded away until it is opened.

import { useState } from 'preact/hooks';
import type { NightDeliveryView } from '../../../api/night-delivery.ts';
import type { PersonView } from '../../../api/people.ts';
import { t, word } from '../../base/messages.ts';
import { OpenedForm } from '../../forms/opened-form.tsx';
import { mayDo } from '../../live/session.ts';
import { troubleText } from '../../live/trouble-note.tsx';
import { useLoaded } from '../../live/use-loaded.ts';
import { NightMailForm } from './night-mail-form.tsx';

interface DeliveriesProps {
  readonly sent: NightDeliveryView['sent'];
  readonly people: readonly PersonView[];
}

const Deliveries = ({ sent, people }: DeliveriesProps) => (
  <ul>
    {sent.map(({ date, person, state, detail }) => {
      const name = people.find(({ id }) => id === person)?.name ?? person;
      return (
        <li key={`${date}${person}`} class="dim">
          {`${date}, ${name}: ${word('post-state', state)} ${detail}`}
        </li>
      );
    })}
  </ul>
);

const Opened = () => {
  const post = useLoaded<NightDeliveryView>('/api/night-delivery');
  const people = useLoaded<readonly PersonView[]>('/api/people', { followsLab: false });
  const { value: before } = post;
  const { value: recipients } = people;
  const trouble = post.trouble ?? people.trouble;
  return (
    <>
      {trouble && <p role="alert">{troubleText(trouble)}</p>}
      {before && recipients && (
        <>
          <OpenedForm newest={post.version}>
            {({ version }) => <NightMailForm before={before} version={version} people={recipients} />}
          </OpenedForm>
          <Deliveries sent={before.sent} people={recipients} />
        </>
      )}
    </>
  );
};

export const NightMail = () => {
  const [wasOpened, setWasOpened] = useState(false);
  if (!mayDo('manage-people')) return null;
  return (
    <details
      class="night-mail"
      onToggle={({ currentTarget }) => {
        if (currentTarget.open) setWasOpened(true);
      }}
    >
      <summary>{t('night.delivery')}</summary>
      {wasOpened && <Opened />}
    </details>
  );
};
