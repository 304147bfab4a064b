// A pattern is registered and gets the short id for its label.

import type { Static } from 'typebox';
import type { Charge } from '../../../../lab/charge.ts';
import { lotShares } from '../../../../lab/charge-shares.ts';
import type { Pattern } from '../../../../lab/pattern.ts';
import { NewPatternBody, PatternView } from '../../../api/patterns.ts';
import type { EpochMillis } from '../../../../wax/units.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import type { App } from '../../base/app.ts';
import { instantOf } from '../../base/instant.ts';
import { fieldProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { authorOf } from '../../sign-in/guard.ts';
import { shortId } from '../../sign-in/secret.ts';
import { describeRoute } from '../common/describe-route.ts';
import { lotOfWax } from '../lots/lot-of-request.ts';
import { requireStorage, performOnPattern } from './pattern-of-request.ts';
import { iso } from '../../../../wax/iso.ts';

const ID_LENGTH = 5;

const newId = (running: RunningLab): string => {
  const id = shortId(ID_LENGTH);
  return running.repository.findPattern(id) === undefined ? id : newId(running);
};

/** What is known of its forming; nothing where nothing is. */
const formingOf = ({
  origin,
  softening,
  celsius,
}: Static<typeof NewPatternBody>): Pick<Pattern, 'forming'> => {
  const forming = {
    ...(origin !== undefined && { origin }),
    ...(softening !== undefined && { softening }),
    ...(celsius !== undefined && { celsius }),
  };
  return Object.keys(forming).length === 0 ? {} : { forming };
};

/** The charge that the wax came from, also one that is no longer in its pot. */
const chargeOf = ({ repository }: RunningLab, id: string | undefined): Charge | undefined => {
  if (id === undefined) return undefined;
  const charge = repository.findCharge(id);
  if (charge === undefined) throw fieldProblem('/body/charge', 'unknown-charge', { id });
  return charge;
};

/** How much of its allowance the charge had used; unknown of one that is no longer in a pot. */
const doseOf = (running: RunningLab, { station, endedAt }: Charge): Pick<Pattern, 'charge_dose_share'> => {
  const status = running.statuses().find((each) => each.station === station);
  const share = endedAt === null ? (status?.doseShare ?? null) : null;
  return share === null ? {} : { charge_dose_share: share };
};

/** The lot that most of the charge was of; its sheet counts for the pattern. */
const mainLot = (charge: Charge | undefined, at: EpochMillis): string | undefined =>
  charge === undefined ? undefined : (lotShares(charge, at)[0]?.lot ?? undefined);

export const registerPattern = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.post(
    '/api/patterns',
    describeRoute('tend-patterns', 'patterns', 'Register a pattern', {
      description: 'Answers its short id for the label.',
      body: NewPatternBody,
      response: { 200: PatternView },
    }),
    async (request) => {
      const { body } = request;
      const station = requireStorage(running, body.station);
      const madeAt = body.madeAt === undefined ? running.now() : instantOf(body.madeAt, '/body/madeAt');
      if (madeAt > running.now()) throw fieldProblem('/body/madeAt', 'field-in-the-future');
      const charge = chargeOf(running, body.charge);
      const lot = lotOfWax(running, body.lot ?? mainLot(charge, madeAt), body.wax);
      const pattern: Pattern = {
        id: newId(running),
        caseReference: body.caseReference.trim(),
        wax: body.wax,
        technique: body.technique,
        length_millimetres: body.lengthMillimetres,
        tolerance_micrometres: body.toleranceMicrometres,
        madeAt: iso(madeAt),
        madeBy: authorOf(request),
        stays: [{ station, from: iso(madeAt), to: null }],
        fate: null,
        ...(body.kind === 'denture-set-up' && { kind: body.kind }),
        ...(body.isMadeOnDie === true && { isMadeOnDie: true }),
        ...(charge !== undefined && { charge: charge.id, ...doseOf(running, charge) }),
        ...(lot !== undefined && { lot }),
        ...formingOf(body),
      };
      return performOnPattern(context, request, { type: 'pattern-made', station }, pattern);
    },
  );
};
