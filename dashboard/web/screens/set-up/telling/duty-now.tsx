// Who is on duty now and until when, and how each person is reached: what holds, whatever stands in the form.

import type { NotificationPlanView } from '../../../../api/notification-plan.ts';
import { DataTable } from '../../../base/data-table.tsx';
import { formatDay, formatTime } from '../../../base/format.ts';
import { t, word } from '../../../base/messages.ts';
import { reader } from '../../../live/lab-state.ts';
import { Mark } from '../../../base/marks.tsx';
import { isReached, nameOf } from './plan-text.ts';

const instantText = (at: string): string => `${formatDay(at, reader.value)}, ${formatTime(at, reader.value)}`;

const MAIL_OPTIONS = '--mail smtp://mail.lab.example:587\n--mail-from alarms@lab.example';

const Warning = ({ text }: { readonly text: string }) => (
  <span class="reach-warning" data-tone="high">
    <Mark name="high" />
    <span>{text}</span>
  </span>
);

export const DutyNow = ({ telling }: { readonly telling: NotificationPlanView }) => {
  const { onDuty, people, dutyEndsAt, mailIsSetUp, plan } = telling;
  const unreached = people.filter((person) => onDuty.includes(person.id) && !isReached(person, mailIsSetUp));
  return (
    <section class="plate duty-now">
      <h2>{t('telling.now')}</h2>
      <p class="duty-names">
        {onDuty.length === 0
          ? t('telling.nobody')
          : onDuty.map((id) => <strong key={id}>{nameOf(id, people)}</strong>)}
      </p>
      <p class="dim">
        {dutyEndsAt === null
          ? t(plan.rota === null ? 'telling.everybody-until' : 'telling.until-changed')
          : t('telling.until', { at: instantText(dutyEndsAt) })}
      </p>
      {unreached.map((person) => (
        <Warning key={person.id} text={t('telling.not-reached', { name: person.name })} />
      ))}
    </section>
  );
};

type Person = NotificationPlanView['people'][number];

const phoneText = ({ phones, phoneTestedAt }: Person): string => {
  if (phones === 0) return t('telling.no-phone');
  const tested =
    phoneTestedAt === null
      ? t('telling.not-tested')
      : t('telling.tested', { at: instantText(phoneTestedAt) });
  return `${phones === 1 ? t('telling.one-phone') : t('telling.phones', { count: phones })}, ${tested}`;
};
const mailText = ({ email, hasEmail, mail }: Person): string =>
  hasEmail ? `${email ?? t('telling.has-email')}, ${word('mail-wish', mail)}` : t('telling.no-email');

export const WaysToPeople = ({ telling }: { readonly telling: NotificationPlanView }) => {
  const { people, plan, mailIsSetUp } = telling;
  const told = people.filter(
    ({ id, role, morningHeartbeat }) =>
      role !== 'viewer' || morningHeartbeat || plan.rota?.people.includes(id),
  );
  return (
    <section class="reach">
      <h2>{t('telling.people')}</h2>
      <DataTable
        columns={[
          t('sign-in.name'),
          t('telling.phone'),
          t('account.email'),
          t('telling.heartbeat'),
          t('telling.reach'),
        ]}
        rows={told.map((person) => ({
          key: person.id,
          cells: [
            <>
              {person.name} <span class="dim role-word">{word('role', person.role)}</span>
            </>,
            phoneText(person),
            mailText(person),
            t(person.morningHeartbeat ? 'telling.wanted' : 'telling.not-wanted'),
            isReached(person, mailIsSetUp) ? (
              t('telling.reached')
            ) : (
              <Warning text={t('telling.by-nothing')} />
            ),
          ],
        }))}
      />
      {!mailIsSetUp && (
        <div class="plate">
          <p>{t('telling.mail-not-set-up')}</p>
          <pre>
            <code>{MAIL_OPTIONS}</code>
          </pre>
        </div>
      )}
      <p class="dim">{t('telling.own-ways')}</p>
      <p class="row">
        <a class="act" href="/phone">
          {t('telling.test-phone')}
        </a>
        <a class="act" href="/set-up/account">
          {t('account.title')}
        </a>
      </p>
    </section>
  );
};
