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

export const PlanRead = ({ telling }: { readonly telling: NotificationPlanView }) => {
  const { plan, people, isOwn } = telling;
  const { rota } = plan;
  return (
    <section class="plate plan-sheet">
      <h2>{t('telling.plan')}</h2>
      <p class="dim">{t('set-up.not-allowed')}</p>
      {!isOwn && <p>{t('telling.not-own')}</p>}
      <dl class="plan-read">
        <Part of="telling.rota">
          {rota === null
            ? t('telling.rota-everybody')
            : t('telling.rota-line', {
                names: rota.people.map((id) => nameOf(id, people)).join(', '),
                day: dayText(rota.startsOn),
                time: clockText(rota.handoverTime),
              })}
        </Part>
        <Part of="telling.absences">
          {lines(
            plan.absences.map((absence) => absenceText(absence, people)),
            'telling.absence-none',
          )}
        </Part>
        <Part of="telling.escalation">{lines(plan.escalation.map(stepText), 'telling.step-none')}</Part>
        <Part of="telling.outside">
          {lines(
            plan.outsideHours.map((priority) => word('priority', priority)),
            'telling.outside-none',
          )}
        </Part>
        <Part of="telling.heartbeat">
          {plan.heartbeatAt === null ? t('telling.never') : clockText(plan.heartbeatAt)}
        </Part>
        <Part of="telling.webhooks">
          {lines(
            plan.webhooks.map(({ name }) => name),
            'telling.webhook-none',
          )}
        </Part>
        <Part of="telling.lamps">{lines(plan.lampTopics, 'telling.lamp-none')}</Part>
      </dl>
    </section>
  );
};
