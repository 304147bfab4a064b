// The mail server and the names in the network: set, tested and in force while the program runs.

import { useState } from 'preact/hooks';
import type { ConnectionsView, HostNamesBody, MailServerBody } from '../../../api/connections.ts';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import { ActButton } from '../../base/act-button.tsx';
import { asRead, sendRemoval, put } from '../../base/api.ts';
import { t } from '../../base/messages.ts';
import { OpenedForm } from '../../forms/opened-form.tsx';
import { Refusal, SubmitRow, useSaving } from '../../forms/saving.tsx';
import { ChoiceField, NumberField, TextField } from '../../forms/schema-fields.tsx';
import { useForm } from '../../forms/use-form.ts';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { session } from '../../live/session.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { RouteTest } from './notification-plan/route-tests.tsx';
import { submitWith } from '../../forms/submit-with.ts';

const ADDRESS = '/api/connections';
/** As many as the interface takes. */
const MOST_NAMES = 10;

interface PartProps {
  readonly view: ConnectionsView;
  readonly version: number | null;
  readonly onSaved: (view: ConnectionsView) => void;
}
type Draft = Omit<Required<MailServerBody>, 'port'> & { readonly port: number | null };

/** The ports that servers of each kind mostly listen on (RFC 8314 for 465, RFC 6409 for 587). */
const USUAL_PORTS: Readonly<Record<Draft['security'], number>> = { tls: 465, starttls: 587, none: 25 };

const draftOf = ({ mail }: ConnectionsView): Draft => {
  if (mail === null)
    return { host: '', port: USUAL_PORTS.starttls, security: 'starttls', user: '', password: '', from: '' };
  const { hasPassword: _, ...setting } = mail;
  return { ...setting, password: '' };
};

const standingOf = ({ mail, mailAtStart }: ConnectionsView): string => {
  if (mail !== null) return t('connections.mail-set', { server: `${mail.host}:${mail.port}` });
  return mailAtStart === null
    ? t('connections.mail-none')
    : t('connections.mail-at-start', { server: mailAtStart });
};

const MailForm = ({ view, version, onSaved }: PartProps) => {
  const { saving, draft, change, field } = useForm(FORM_FIELDS['mail-server'], draftOf(view));
  const save = (): void => {
    const { password, port, ...rest } = draft;
    const body = { ...rest, port, ...(password !== '' && { password }) };
    void saving.run(
      () => put<ConnectionsView>(`${ADDRESS}/mail`, body, asRead(version)),
      (saved) => {
        change({ password: '' });
        noteDone(t('connections.mail-saved'));
        onSaved(saved);
      },
    );
  };
  const remove = (): void =>
    void saving.run(
      () => sendRemoval<ConnectionsView>(`${ADDRESS}/mail`, asRead(version)),
      (saved) => {
        change(draftOf(saved));
        noteDone(standingOf(saved));
        onSaved(saved);
      },
    );
  return (
    <form class="card" onSubmit={submitWith(save)}>
      <div class="pair">
        <TextField
          {...field('host')}
          label="connections.host"
          hint={t('connections.host-hint')}
          isVerbatim
          onChange={(host) => change({ host: host.trim() })}
        />
        <TextField
          {...field('from')}
          label="connections.from"
          hint={t('connections.from-hint')}
          type="email"
          onChange={(from) => change({ from: from.trim() })}
        />
        <ChoiceField
          {...field('security')}
          label="connections.security"
          words="mail-security"
          onChange={(security) => change({ security, port: USUAL_PORTS[security] })}
        />
        <NumberField {...field('port')} label="connections.port" />
        <TextField {...field('user')} label="connections.user" hint={t('connections.user-hint')} isVerbatim />
        <TextField
          {...field('password')}
          label="connections.password"
          type="password"
          autoComplete="new-password"
          hint={t(view.mail?.hasPassword ? 'connections.password-stays' : 'connections.password-none')}
        />
      </div>
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      <p class="row">
        <ActButton text={t('set-up.save')} isFirst disabled={saving.busy} />
        {view.mail !== null && (
          <ActButton text={t('connections.mail-remove')} disabled={saving.busy} onClick={remove} />
        )}
      </p>
    </form>
  );
};

/** The test goes to the requester, because anybody's address could be written to from here otherwise. */
const MailTest = ({ view }: Pick<PartProps, 'view'>) => {
  if (view.mail === null && view.mailAtStart === null) return null;
  const email = session.value?.person?.email ?? null;
  return (
    <section>
      <h3>{t('connections.mail-test')}</h3>
      {email === null ? (
        <p>
          {t('connections.no-own-address')} <a href="/set-up/account">{t('account.title')}</a>
        </p>
      ) : (
        <ul class="plain-list">
          <RouteTest
            key={JSON.stringify(view.mail)}
            route={{ channel: 'mail', address: '', name: t('connections.mail-test-to', { email }) }}
          />
        </ul>
      )}
    </section>
  );
};

const NamesForm = ({ view, version, onSaved }: PartProps) => {
  const [text, setText] = useState(view.hostNames.join(', '));
  const saving = useSaving();
  /** The names are in one field; whichever is refused is named there. */
  const anyName = () => {
    for (let index = 0; index < MOST_NAMES; index += 1) {
      const refused = saving.errorAt(`hostNames/${index}`);
      if (refused !== null) return refused;
    }
    return saving.errorAt('hostNames');
  };
  const save = (): void => {
    const body: HostNamesBody = { hostNames: text.split(/[\s,]+/).filter((name) => name !== '') };
    void saving.run(
      () => put<ConnectionsView>(`${ADDRESS}/host-names`, body, asRead(version)),
      (saved) => {
        setText(saved.hostNames.join(', '));
        noteDone(t('connections.names-saved'));
        onSaved(saved);
      },
    );
  };
  return (
    <form class="card" onSubmit={submitWith(save)}>
      <TextField
        form={{ fields: FORM_FIELDS['host-names'], saving: { errorAt: anyName } }}
        at="hostNames/0"
        label="connections.names"
        hint={t('connections.names-hint')}
        isVerbatim
        mayBeEmpty
        value={text}
        onChange={setText}
      />
      {view.hostNamesAtStart.length > 0 && (
        <p class="dim">{t('connections.names-at-start', { names: view.hostNamesAtStart.join(', ') })}</p>
      )}
      {!view.servesOthers && <p>{t('connections.serves-itself')}</p>}
      <SubmitRow saving={saving} label="set-up.save" isFirst />
    </form>
  );
};

export default function ConnectionsSetUp() {
  const loaded = useLoaded<ConnectionsView>(ADDRESS);
  const view = loaded.value;
  return (
    <SetUpPage heading="connections.title" explain="connections.explain" needs="set-up-lab">
      <Refusal trouble={loaded.trouble} retry={loaded.reload} />
      {view !== null && (
        <>
          <h2>{t('connections.mail')}</h2>
          <p>{standingOf(view)}</p>
          <OpenedForm newest={loaded.version}>
            {({ version }) => <MailForm view={view} version={version} onSaved={loaded.setValue} />}
          </OpenedForm>
          <MailTest view={view} />
          <h2>{t('connections.network')}</h2>
          <OpenedForm newest={loaded.version}>
            {({ version }) => <NamesForm view={view} version={version} onSaved={loaded.setValue} />}
          </OpenedForm>
        </>
      )}
    </SetUpPage>
  );
}
