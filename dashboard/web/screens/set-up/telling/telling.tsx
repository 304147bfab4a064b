// Who is told of alarms: who is on duty, how each person is reached, and the plan by which it goes on.

import type { NotificationPlanBody, NotificationPlanView } from '../../../../api/notification-plan.ts';
import { put } from '../../../base/api.ts';
import { t } from '../../../base/messages.ts';
import { mayDo } from '../../../live/session.ts';
import { useLoaded } from '../../../live/use-loaded.ts';
import { Refusal } from '../../../forms/saving.tsx';
import { SetUpPage } from '../../../forms/set-up-page.tsx';
import { tellDone } from '../../../forms/undo.tsx';
import { DutyNow, WaysToPeople } from './duty-now.tsx';
import { PlanForm } from './plan-form.tsx';
import { PlanRead } from './plan-read.tsx';
import './telling.css';

export default function TellingSetUp() {
  const telling = useLoaded<NotificationPlanView>('/api/notification-plan');
  const undo = (before: NotificationPlanBody) => async () => {
    const answer = await put<NotificationPlanView>('/api/notification-plan', before);
    if (answer.ok) telling.reload();
    return answer;
  };
  return (
    <SetUpPage heading="telling.title" explain="telling.explain" needs="read">
      <Refusal trouble={telling.trouble} retry={telling.reload} />
      {telling.value && (
        <>
          <DutyNow telling={telling.value} />
          <WaysToPeople telling={telling.value} />
          {mayDo('set-up-lab') ? (
            <PlanForm
              telling={telling.value}
              onSaved={(before) => {
                telling.reload();
                tellDone(t('telling.saved'), undo(before));
              }}
            />
          ) : (
            <PlanRead telling={telling.value} />
          )}
          <p>
            <a class="act" href="/set-up/deliveries">
              {t('ways.post')}
            </a>
          </p>
        </>
      )}
    </SetUpPage>
  );
}
