// Whether this lab reports to a group, to which broker, and what leaves the lab by it.

import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { GroupLinkBody, GroupLinkView } from '../../../api/group-link.ts';
import type { GroupOfferView } from '../../../api/group-offers.ts';
import { ActButton } from '../../base/act-button.tsx';
import { asRead, put } from '../../base/api.ts';
import { type MessageKey, t } from '../../base/messages.ts';
import { OpenedForm } from '../../forms/opened-form.tsx';
import { Refusal } from '../../forms/saving.tsx';
import { ChoiceField, TextField, TickField } from '../../forms/schema-fields.tsx';
import { useForm } from '../../forms/use-form.ts';
import { SetUpPage } from '../../forms/set-up-page.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { useLoaded } from '../../live/use-loaded.ts';
import { GroupOffers } from './group-offers.tsx';
import { submitWith } from '../../forms/submit-with.ts';
import { instantText } from '../../live/instant-text.ts';

const ADDRESS = '/api/group-link';
const STATUS_MILLIS = 5000;
type Draft = Required<GroupLinkBody>;

const draftOf = ({
  hasPassword: _,
  topics: _topics,
  offersTopic: _offersTopic,
  status: _status,
  ...setting
}: GroupLinkView): Draft => ({ ...setting, password: '' });

/** In plain words and in the order of the messages; what depends on a choice follows the choice. */
const leaving = ({ detail, givesNames, givesCaseReferences }: Draft): readonly MessageKey[] => [
  'group-link.leaves-standing',
  givesNames ? 'group-link.leaves-alarms-named' : 'group-link.leaves-alarms',
  detail === 'readings' ? 'group-link.leaves-readings' : 'group-link.leaves-minutes',
  'group-link.leaves-days',
  'group-link.leaves-charges',
  givesCaseReferences ? 'group-link.leaves-patterns-named' : 'group-link.leaves-patterns',
  'group-link.leaves-figures',
  givesNames ? 'group-link.leaves-answers-named' : 'group-link.leaves-answers',
];

const Status = ({ view }: { readonly view: GroupLinkView }) => {
  const { status, isOn } = view;
  if (status === null || !isOn) return <p>{t('group-link.is-off')}</p>;
  return (
    <>
      <p>
        {t(status.state === 'connected' ? 'group-link.connected' : 'group-link.unreachable', {
          since: instantText(status.since),
        })}
      </p>
      {status.problem !== null && <p class="refusal">{status.problem}</p>}
      <p>
        {status.waitingMinutes + status.waitingAlarmChanges === 0
          ? t('group-link.waits-nothing')
          : t('group-link.waits', { minutes: status.waitingMinutes, changes: status.waitingAlarmChanges })}
      </p>
      {status.deliveredAt !== null && (
        <p class="dim">{t('group-link.delivered', { at: instantText(status.deliveredAt) })}</p>
      )}
    </>
  );
};

const LinkForm = (props: {
  readonly view: GroupLinkView;
  readonly version: number | null;
  readonly onSaved: (view: GroupLinkView) => void;
}) => {
  const { view, version } = props;
  const { saving, draft, change, field } = useForm(FORM_FIELDS['group-link'], draftOf(view));
  const save = (isOn: boolean): void => {
    const { password, ...rest } = draft;
    const body: GroupLinkBody = { ...rest, isOn, ...(password !== '' && { password }) };
    void saving.run(
      () => put<GroupLinkView>(ADDRESS, body, asRead(version)),
      (saved) => {
        noteDone(t(isOn ? 'group-link.saved-on' : 'group-link.saved-off'));
        props.onSaved(saved);
      },
    );
  };
  return (
    <form onSubmit={submitWith(() => save(true))}>
      <div class="pair">
        <TextField
          {...field('url')}
          label="group-link.url"
          hint={t('group-link.url-hint')}
          onChange={(url) => change({ url: url.trim() })}
        />
        <TextField {...field('user')} label="group-link.user" />
        <TextField
          {...field('password')}
          label="group-link.password"
          type="password"
          autoComplete="new-password"
          hint={t(view.hasPassword ? 'group-link.password-stays' : 'group-link.password-none')}
        />
      </div>
      <p class="dim">{t('group-link.topics', { topics: view.topics, offers: view.offersTopic })}</p>
      <details>
        <summary>{t('group-link.authority')}</summary>
        <div class="field">
          <textarea
            aria-label={t('group-link.authority')}
            rows={6}
            spellcheck={false}
            value={draft.authority}
            onInput={(event) => change({ authority: event.currentTarget.value.trim() })}
          />
          <span class="dim">{t('group-link.authority-hint')}</span>
          {saving.errorAt('authority') !== null && (
            <span class="entry-error" role="alert">
              {t('group-link.authority-wrong')}
            </span>
          )}
        </div>
      </details>
      <fieldset>
        <legend>{t('group-link.choose')}</legend>
        <ChoiceField {...field('detail')} label="group-link.detail" words="group-detail" />
        <TickField {...field('givesCaseReferences')} label="group-link.case-references" />
        <TickField {...field('givesNames')} label="group-link.names" />
      </fieldset>
      <h2>{t('group-link.leaves')}</h2>
      <ul class="points">
        {leaving(draft).map((key) => (
          <li key={key}>{t(key)}</li>
        ))}
      </ul>
      <p>{t('group-link.stays')}</p>
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      <p class="row">
        <ActButton text={t(view.isOn ? 'group-link.save' : 'group-link.switch-on')} disabled={saving.busy} />
        {view.isOn && (
          <ActButton text={t('group-link.switch-off')} disabled={saving.busy} onClick={() => save(false)} />
        )}
      </p>
    </form>
  );
};

export default function GroupLinkScreen() {
  const link = useLoaded<GroupLinkView>(ADDRESS, { everyMillis: STATUS_MILLIS });
  const offers = useLoaded<readonly GroupOfferView[]>('/api/group-offers', { everyMillis: STATUS_MILLIS });
  const view = link.value;
  return (
    <SetUpPage heading="group-link.title" explain="group-link.explain" needs="set-up-lab">
      <Refusal trouble={link.trouble} retry={link.reload} />
      {view !== null && (
        <>
          <h2>{t('group-link.standing')}</h2>
          <Status view={view} />
          {(view.isOn || (offers.value ?? []).length > 0) && <GroupOffers offers={offers} />}
          <h2>{t('group-link.setting')}</h2>
          <OpenedForm newest={link.version}>
            {({ version }) => <LinkForm view={view} version={version} onSaved={link.setValue} />}
          </OpenedForm>
        </>
      )}
    </SetUpPage>
  );
}
