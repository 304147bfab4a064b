// The lab file over the wire: the lab written down as YAML, and taken from YAML as a whole.

import { RULES_BY_PLACE } from '../../../../alerts/watch/rules/rules-by-place.ts';
import { readLabFile } from '../../../../lab/lab-file/read-lab-file.ts';
import { writeLabFile } from '../../../../lab/lab-file/write-lab-file.ts';
import type { Lab } from '../../../../lab/lab.ts';
import { notificationPlanOf } from '../../../../lab/notification-plan.ts';
import { LANGUAGE_CODES } from '../../../../words/load-languages.ts';
import { LabFileBody, LabFileView } from '../../../api/lab-bodies.ts';
import type { App } from '../../base/app.ts';
import { changeLab } from '../../context/lab-change.ts';
import { fieldOf, HttpProblem } from '../../base/problem.ts';
import { versionOf } from '../../context/refuse-overwrite.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { withoutWebhookKeys, withStoredWebhookKeys } from '../../context/webhook-keys.ts';
import { describeRoute } from '../common/describe-route.ts';

/** Whoever has the file has not the webhooks. */
const writeDown = (lab: Lab): string =>
  writeLabFile(
    lab.notificationPlan === undefined
      ? lab
      : { ...lab, notificationPlan: withoutWebhookKeys(lab.notificationPlan) },
  );

const MOST_BYTES = 1_500_000;

export const labFileRoutes = (app: App, context: ServerContext): void => {
  const { running, audit } = context;
  app.get(
    '/api/lab-file',
    describeRoute('set-up-lab', 'set-up', 'The lab, written down as a lab file', {
      description: 'Charges, patterns and readings are history and are not in it.',
      response: { 200: LabFileView },
    }),
    () => ({ version: versionOf(audit), yaml: writeDown(running.lab()) }),
  );
  app.put(
    '/api/lab-file',
    {
      bodyLimit: MOST_BYTES,
      ...describeRoute('set-up-lab', 'set-up', 'Take the whole lab from a lab file', {
        description:
          'Replaces site, stations, probes and own wax values; history stays, and so do people and their sign-in. ' +
          'Every problem is named with its line. With `dryRun` nothing is changed. With `If-Match: "VERSION"`, the `version` that a ' +
          'dry run answered, it is refused where somebody else has changed the lab since.',
        body: LabFileBody,
        response: { 200: LabFileView },
      }),
    },
    (request) => {
      const { yaml, dryRun = false, reason } = request.body;
      const read = readLabFile(yaml, { rules: RULES_BY_PLACE, languages: LANGUAGE_CODES });
      if (!read.ok)
        throw new HttpProblem('lab-file-refused', {
          errors: read.problems.map(({ line, column, path, ...problem }) =>
            fieldOf(`line ${line}, column ${column}${path === '' ? '' : `, ${path}`}`, problem),
          ),
        });
      const before = running.lab();
      // People sign in; a file that was edited elsewhere must not raise anybody's role or bring a stranger in.
      const after = {
        ...before,
        ...read.lab,
        charges: before.charges,
        patterns: before.patterns,
        people: before.people,
        ...(read.lab.notificationPlan !== undefined && {
          notificationPlan: withStoredWebhookKeys(read.lab.notificationPlan, notificationPlanOf(before)),
        }),
      };
      if (!dryRun) {
        changeLab(context, request, after, () => running.repository.replace(after), {
          action: 'lab-file-taken',
          subject: ['lab', before.site.id],
          before: writeDown(before),
          after: writeDown(after),
          reason,
        });
      }
      return {
        version: versionOf(audit),
        yaml: writeDown(after),
        ...(read.oldSpellings.length > 0 && {
          oldSpellings: read.oldSpellings.map((spelling) => ({ ...spelling })),
        }),
      };
    },
  );
};
