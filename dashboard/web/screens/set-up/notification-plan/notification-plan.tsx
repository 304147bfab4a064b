// Who is notified of alarms: who is on duty, how each person is reached, and the plan by which it goes on.

import type { NotificationPlanBody, NotificationPlanView } from '../../../../api/notification-plan.ts';
import { asRead, put } from '../../../base/api.ts';
import { t } from '../../../base/messages.ts';
import { mayDo } from '../../../live/session.ts';
import { useLoaded } from '../../../live/use-loaded.ts';
import { OpenedForm } from '../../../forms/opened-form.tsx';
import { Refusal } from '../../../forms/saving.tsx';
import { SetUpPage } from '../../../forms/set-up-page.tsx';
import { noteDone } from '../../../forms/undo.tsx';
import { DutyNow, WaysToPeople } from './duty-now.tsx';
import { PlanForm } from './plan-form.tsx';
import { PlanRead } from './plan-read.tsx';
import { RouteTests } from './route-tests.tsx';
import './notification-plan.css';
import { ActLink } from '../../../base/act-link.tsx';

export default function NotificationPlanSetUp() {
  const view = useLoaded<NotificationPlanView>('/api/notification-plan');
  const undo = (before: NotificationPlanBody, version: number) => async () => {
    const answer = await put<NotificationPlanView>('/api/notification-plan', before, asRead(version));
    if (answer.ok) view.reload();
    return answer;
  };
  return (
    <SetUpPage heading="notification-plan.title" explain="notification-plan.explain" needs="read">
      <Refusal trouble={view.trouble} retry={view.reload} />
      {view.value && (
        <>
          <DutyNow view={view.value} />
          <WaysToPeople view={view.value} />
          {mayDo('set-up-lab') ? (
            <>
              <OpenedForm newest={view.value.version}>
                {(opened) =>
                  view.value && (
                    <PlanForm
                      view={view.value}
                      opened={opened}
                      onSaved={(before) => {
                        view.reload();
                        noteDone(t('notification-plan.saved'), undo(before, opened.version));
                      }}
                    />
                  )
                }
              </OpenedForm>
              <RouteTests view={view.value} />
            </>
          ) : (
            <PlanRead view={view.value} />
          )}
          <p>
            <ActLink href="/set-up/deliveries" text="ways.deliveries" />
          </p>
        </>
      )}
    </SetUpPage>
  );
}
