// "Alarms on this phone": what they are for, then one tap; or why this phone cannot receive them and what to do.
// Below it how else this person is notified.

import { useEffect, useId } from 'preact/hooks';
import type { PersonView } from '../../../api/people.ts';
import { ActButton } from '../../base/act-button.tsx';
import { put } from '../../base/api.ts';
import { type MessageKey, t } from '../../base/messages.ts';
import { loadSession, session } from '../../live/session.ts';
import { troubleText } from '../../live/trouble-note.tsx';
import { type Obstacle, phoneObstacle } from './phone-obstacle.ts';
import {
  installOffer,
  phone,
  phoneFacts,
  phoneTrouble,
  recallPhone,
  subscribePhone,
  testPhone,
  testState,
  unsubscribePhone,
} from './phone-subscription.ts';
import '../../forms/choice.css';
import { ActLink } from '../../base/act-link.tsx';
import { instantText } from '../../live/instant-text.ts';

const OBSTACLES: Readonly<Record<Obstacle, MessageKey>> = {
  insecure: 'phone.insecure',
  'ios-home': 'phone.ios-home',
  'no-worker': 'phone.no-worker',
  'no-push': 'phone.no-push',
  'not-signed-in': 'phone.not-signed-in',
  denied: 'phone.denied',
};

const MAIL: Readonly<Record<'always' | 'no-phone' | 'never', MessageKey>> = {
  always: 'phone.mail-always',
  'no-phone': 'phone.mail-no-phone',
  never: 'phone.mail-never',
};

const at = (instant: string | null): string => (instant === null ? '' : instantText(instant));

const Subscribed = () => {
  const subscription = phone.value;
  if (subscription === null) return null;
  return (
    <>
      <p>{t('phone.subscribed', { name: session.value?.name ?? '' })}</p>
      <p role="status">
        {testState.value === 'waiting' && t('phone.testing')}
        {testState.value === 'shown' && t('phone.test-shown', { at: at(subscription.testedAt) })}
        {testState.value === 'missing' && t('phone.test-missing')}
        {testState.value === 'none' &&
          (subscription.testedAt === null
            ? t('phone.never-tested')
            : t('phone.tested', { at: at(subscription.testedAt) }))}
      </p>
      <p class="row">
        <ActButton
          text={t('phone.test')}
          isFirst={testState.value !== 'shown'}
          disabled={testState.value === 'waiting'}
          onClick={() => void testPhone()}
        />
        <ActButton text={t('phone.unsubscribe')} onClick={() => void unsubscribePhone()} />
      </p>
    </>
  );
};

const OtherWays = ({ person }: { readonly person: PersonView }) => {
  const id = useId();
  const save = async (change: Partial<PersonView>): Promise<void> => {
    const { language, temperatureUnit, hourCycle, email, namesOnLockScreen, morningHeartbeat, mail } = person;
    const saved = { language, temperatureUnit, hourCycle, email, namesOnLockScreen, morningHeartbeat };
    await put('/api/account', { ...saved, ...(mail && { mail }), ...change });
    await loadSession();
  };
  const Tick = (props: {
    readonly name: 'namesOnLockScreen' | 'morningHeartbeat';
    readonly label: MessageKey;
  }) => (
    <p class="choice-one">
      <input
        type="checkbox"
        id={`${id}-${props.name}`}
        checked={person[props.name]}
        onChange={(event) => void save({ [props.name]: event.currentTarget.checked })}
      />
      <label for={`${id}-${props.name}`}>{t(props.label)}</label>
    </p>
  );
  return (
    <>
      {person.email === null ? (
        <p>
          <a href="/set-up/account">{t('phone.no-address')}</a>
        </p>
      ) : (
        <fieldset class="choice">
          <legend>{t('phone.mail', { address: person.email })}</legend>
          {Object.entries(MAIL).map(([wish, label]) => (
            <span key={wish} class="choice-one">
              <input
                type="radio"
                id={`${id}-${wish}`}
                name={`${id}-mail`}
                checked={(person.mail ?? 'no-phone') === wish}
                onChange={() => void save({ mail: wish as keyof typeof MAIL })}
              />
              <label for={`${id}-${wish}`}>{t(label)}</label>
            </span>
          ))}
        </fieldset>
      )}
      <Tick name="namesOnLockScreen" label="phone.names" />
      <Tick name="morningHeartbeat" label="phone.heartbeat" />
    </>
  );
};

export const PhoneAlarms = () => {
  const person = session.value?.person ?? null;
  useEffect(() => void recallPhone(), [person?.id]);
  const obstacle = phoneObstacle(phoneFacts());
  const trouble = phoneTrouble.value;
  const offer = installOffer.value;
  return (
    <section class="phone-part phone-alarms">
      <h2>{t('phone.title')}</h2>
      {obstacle !== null && <p>{t(OBSTACLES[obstacle])}</p>}
      {obstacle === 'not-signed-in' && (
        <p class="row">
          <ActLink href="/sign-in?to=/phone" text="sign-in.title" />
        </p>
      )}
      {obstacle === null && phone.value === null && (
        <>
          <p>{t('phone.what-for')}</p>
          <p class="row">
            <ActButton text={t('phone.subscribe')} isFirst onClick={() => void subscribePhone()} />
          </p>
        </>
      )}
      {obstacle === null && <Subscribed />}
      {trouble !== null && (
        <p role="alert">
          {'trouble' in trouble
            ? troubleText(trouble.trouble)
            : t('phone.failed', { reason: trouble.reason })}
        </p>
      )}
      {offer !== null && (
        <p class="row">
          <ActButton text={t('phone.install')} onClick={() => void offer.prompt()} />
          <span class="dim">{t('phone.install-hint')}</span>
        </p>
      )}
      {person !== null && <OtherWays person={person} />}
    </section>
  );
};
