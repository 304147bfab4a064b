// Who is on duty now and until when, and how each person is reached: what holds, whatever is in the form.

import type { NotificationPlanView } from '../../../../api/notification-plan.ts';
import { DataTable } from '../../../base/data-table.tsx';
import { formatDay, formatTime } from '../../../base/format.ts';
import { t, word } from '../../../base/messages.ts';
import { reader } from '../../../live/lab-state.ts';
import { mayDo } from '../../../live/session.ts';
import { Mark } from '../../../base/marks.tsx';
import { isReached, nameOf } from './plan-text.ts';
import { ActLink } from '../../../base/act-link.tsx';

const instantText = (at: string): string => `${formatDay(at, reader.value)}, ${formatTime(at, reader.value)}`;

const Warning = ({ text }: { readonly text: string }) => (
  <span class="reach-warning" data-tone="high">
    <Mark name="high" />
    <span>{text}</span>
  </span>
);

export const DutyNow = ({ view }: { readonly view: NotificationPlanView }) => {
  const { onDuty, people, dutyEndsAt, mailIsSetUp, plan } = view;
  const unreached = people.filter((person) => onDuty.includes(person.id) && !isReached(person, mailIsSetUp));
  return (
    <section class="card duty-now">
      <h2>{t('notification-plan.now')}</h2>
      <p class="duty-names">
        {onDuty.length === 0
          ? t('notification-plan.nobody')
          : onDuty.map((id) => <strong key={id}>{nameOf(id, people)}</strong>)}
      </p>
      <p class="dim">
        {dutyEndsAt === null
          ? t(plan.rota === null ? 'notification-plan.everybody-until' : 'notification-plan.until-changed')
          : t('notification-plan.until', { at: instantText(dutyEndsAt) })}
      </p>
      {unreached.map((person) => (
        <Warning key={person.id} text={t('notification-plan.not-reached', { name: person.name })} />
      ))}
    </section>
  );
};

type Person = NotificationPlanView['people'][number];

const phoneText = ({ phones, phoneTestedAt }: Person): string => {
  if (phones === 0) return t('notification-plan.no-phone');
  const tested =
    phoneTestedAt === null
      ? t('notification-plan.not-tested')
      : t('notification-plan.tested', { at: instantText(phoneTestedAt) });
  return `${phones === 1 ? t('notification-plan.one-phone') : t('notification-plan.phones', { count: phones })}, ${tested}`;
};
const mailText = ({ email, hasEmail, mail }: Person): string =>
  hasEmail
    ? `${email ?? t('notification-plan.has-email')}, ${word('mail-wish', mail)}`
    : t('notification-plan.no-email');

export const WaysToPeople = ({ view }: { readonly view: NotificationPlanView }) => {
  const { people, plan, mailIsSetUp } = view;
  const notified = people.filter(
    ({ id, role, morningHeartbeat }) =>
      role !== 'viewer' || morningHeartbeat || plan.rota?.people.includes(id),
  );
  return (
    <section class="reach">
      <h2>{t('notification-plan.people')}</h2>
      <DataTable
        rows={notified}
        keyOf={(person) => person.id}
        columns={{
          [t('sign-in.name')]: (person) => (
            <>
              {person.name} <span class="dim role-word">{word('role', person.role)}</span>
            </>
          ),
          [t('notification-plan.phone')]: phoneText,
          [t('account.email')]: mailText,
          [t('notification-plan.heartbeat')]: (person) =>
            t(person.morningHeartbeat ? 'notification-plan.wanted' : 'notification-plan.not-wanted'),
          [t('notification-plan.reach')]: (person) =>
            isReached(person, mailIsSetUp) ? (
              t('notification-plan.reached')
            ) : (
              <Warning text={t('notification-plan.by-nothing')} />
            ),
        }}
      />
      {!mailIsSetUp && (
        <p class="card">
          <span>{t('notification-plan.mail-not-set-up')}</span>
          {mayDo('set-up-lab') && <ActLink href="/set-up/connections" text="connections.title" />}
        </p>
      )}
      <p class="dim">{t('notification-plan.own-ways')}</p>
      <p class="row">
        <ActLink href="/phone" text="notification-plan.test-phone" />
        <ActLink href="/set-up/account" text="account.title" />
      </p>
    </section>
  );
};
