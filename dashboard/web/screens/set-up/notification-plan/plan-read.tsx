// The plan in sentences, for those who may read and not change it.

import type { ComponentChildren } from 'preact';
import type { NotificationPlanView } from '../../../../api/notification-plan.ts';
import { type MessageKey, t, word } from '../../../base/messages.ts';
import { absenceText, clockText, dayText, nameOf, stepText } from './plan-text.ts';

const Part = (props: { readonly of: MessageKey; readonly children: ComponentChildren }) => (
  <div>
    <dt>{t(props.of)}</dt>
    <dd>{props.children}</dd>
  </div>
);
const lines = (texts: readonly string[], none: MessageKey) =>
  texts.length === 0 ? (
    t(none)
  ) : (
    <ul>
      {texts.map((text) => (
        <li key={text}>{text}</li>
      ))}
    </ul>
  );

export const PlanRead = ({ view }: { readonly view: NotificationPlanView }) => {
  const { plan, people, isOwn } = view;
  const { rota } = plan;
  return (
    <section class="card plan-sheet">
      <h2>{t('notification-plan.plan')}</h2>
      <p class="dim">{t('set-up.not-allowed')}</p>
      {!isOwn && <p>{t('notification-plan.not-own')}</p>}
      <dl class="plan-read">
        <Part of="notification-plan.rota">
          {rota === null
            ? t('notification-plan.rota-everybody')
            : t('notification-plan.rota-line', {
                names: rota.people.map((id) => nameOf(id, people)).join(', '),
                day: dayText(rota.startsOn),
                time: clockText(rota.handoverTime),
              })}
        </Part>
        <Part of="notification-plan.absences">
          {lines(
            plan.absences.map((absence) => absenceText(absence, people)),
            'notification-plan.absence-none',
          )}
        </Part>
        <Part of="notification-plan.escalation">
          {lines(plan.escalation.map(stepText), 'notification-plan.step-none')}
        </Part>
        <Part of="notification-plan.outside">
          {lines(
            plan.outsideHours.map((priority) => word('priority', priority)),
            'notification-plan.outside-none',
          )}
        </Part>
        <Part of="notification-plan.heartbeat">
          {plan.heartbeatAt === null ? t('notification-plan.never') : clockText(plan.heartbeatAt)}
        </Part>
        <Part of="notification-plan.webhooks">
          {lines(
            plan.webhooks.map(({ name }) => name),
            'notification-plan.webhook-none',
          )}
        </Part>
        <Part of="notification-plan.lamps">{lines(plan.lampTopics, 'notification-plan.lamp-none')}</Part>
      </dl>
    </section>
  );
};
