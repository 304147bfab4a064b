// Set-up: the lab as it is described, and the rules whose figures may be set.

import { Type } from 'typebox';
import { ALL_RULES } from '../../../../alerts/watch/rules/all-rules.ts';
import { placesOf } from '../../../../alerts/watch/rules/rules-by-place.ts';
import { LabView, RuleView } from '../../../api/lab-bodies.ts';
import type { App } from '../../base/app.ts';
import { tagVersion, versionOf } from '../../context/refuse-overwrite.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { sourceView } from '../../../queries/source-view.ts';
import { labView } from '../../views/lab-view.ts';
import { describeRoute } from '../common/describe-route.ts';

export const readLab = (app: App, { running, audit }: ServerContext): void => {
  app.get(
    '/api/lab',
    describeRoute('read', 'set-up', 'The lab as it is described', {
      description:
        'Values that are absent are those of the wax class or the rule. A change of it that sends `If-Match: "VERSION"`, the ' +
        '`version` that was read here, is refused where it would take back what somebody else saved since.',
      response: { 200: LabView },
    }),
    (_request, reply) => {
      tagVersion(audit, reply);
      return labView(running.lab(), running.repository.isEmpty(), versionOf(audit));
    },
  );
};

const RULE_VIEWS: RuleView[] = ALL_RULES.map((rule) => ({
  ...rule,
  parameters: Object.fromEntries(
    Object.entries(rule.parameters).map(([name, parameter]) => [
      name,
      { ...parameter, source: sourceView(parameter.source), places: [...placesOf(rule, name)] },
    ]),
  ),
}));

export const readRules = (app: App): void => {
  app.get(
    '/api/rules',
    describeRoute('read', 'set-up', 'Every rule, its formula and which figures of it may be set', {
      response: { 200: Type.Array(RuleView) },
    }),
    () => RULE_VIEWS,
  );
};
