// What the group offers: shown with what it would change here, accepted or declined by a manager of this lab. Nothing of
// an offer counts before.

import type { FastifyRequest } from 'fastify';
import { Type } from 'typebox';
import { RULES_BY_PLACE } from '../../../../alerts/watch/rules/rules-by-place.ts';
import { RULES } from '../../../../alerts/watch/rules/all-rules.ts';
import type { OfferAnswer } from '../../../../lab/group/group-message.ts';
import type { KeptOffer } from '../../../../lab/group/group-offer-table.ts';
import type { Lab } from '../../../../lab/lab.ts';
import type { LabRepository } from '../../../../lab/database/lab-repository.ts';
import { type OfferChange, offerChanges, withOffer } from '../../../../lab/group/offer.ts';
import { concernsHeat, offerProblems } from '../../../../lab/group/offer-checks.ts';
import { ownEntry } from '../../../../wax/own-entry.ts';
import { epochMillis } from '../../../../wax/units.ts';
import { whatIsWrong } from '../../../../words/problem-text.ts';
import { GroupOfferView, OfferAnswerBody, type OfferChangeView } from '../../../api/group-offers.ts';
import type { App } from '../../base/app.ts';
import { fieldOf, HttpProblem } from '../../base/problem.ts';
import { type AuditedChange, saveAudited } from '../../context/audit-change.ts';
import { broughtContradictions, changeLab } from '../../context/lab-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { authorOf } from '../../sign-in/guard.ts';
import { sayToReader } from '../../sign-in/reader.ts';
import { describeRoute } from '../common/describe-route.ts';
import { iso } from '../../../../wax/iso.ts';

const OfferId = Type.Object({ id: Type.String({ maxLength: 20 }) });

const changeView = (change: OfferChange, { stations }: Lab): OfferChangeView => {
  if (change.kind !== 'rule-figure') return change;
  const { figure, rule, station } = change;
  return {
    ...change,
    station: stations.find(({ id }) => id === station)?.name ?? station,
    unit: ownEntry(ownEntry(RULES, rule)?.parameters ?? {}, figure)?.unit ?? null,
  };
};

const offerView = (offered: KeptOffer, lab: Lab, say: ReturnType<typeof sayToReader>): GroupOfferView => {
  const { answeredAt, answeredBy, offer, state } = offered;
  const isOpen = state === 'open';
  const changes = isOpen ? offerChanges(lab, offer, RULES_BY_PLACE) : [];
  const recorded = { recordedAt: offer.offered_at, recordedBy: offer.by };
  const problems = isOpen
    ? [
        ...offerProblems(lab, offer, RULES_BY_PLACE),
        ...broughtContradictions(lab, withOffer(lab, offer, RULES_BY_PLACE, recorded)),
      ].map((found) => whatIsWrong(say, found))
    : [];
  return {
    id: offer.id,
    note: offer.note,
    by: offer.by,
    offeredAt: offer.offered_at,
    state,
    answeredBy,
    answeredAt: answeredAt === null ? null : iso(epochMillis(answeredAt)),
    changes: changes.map((change) => changeView(change, lab)),
    problems: [...new Set(problems)],
    concernsHeat: concernsHeat(lab, changes),
  };
};

const saveDifferences = (repository: LabRepository, before: Lab, after: Lab): void => {
  for (const [wax, values] of Object.entries(after.waxOverrides))
    if (values !== before.waxOverrides[wax]) repository.saveWaxOverride(wax, values);
  if (after.site !== before.site) repository.saveSite(after.site);
  for (const station of after.stations)
    if (!before.stations.includes(station)) repository.saveStation(station);
  for (const lot of after.lots ?? []) if (before.lots?.includes(lot) !== true) repository.saveLot(lot);
};

/** As the audit trail keeps it. */
const nameOf = (change: OfferChange): string => {
  switch (change.kind) {
    case 'wax-value':
      return `${change.wax}.${change.name}`;
    case 'rule-figure':
      return [change.station ?? 'lab', change.rule, change.figure].join('.');
    case 'lot-added':
      return `${change.maker} ${change.lot}`;
    case 'lot-expiry':
      return `${change.maker} ${change.lot}.expiresOn`;
    case 'lot-value':
      return `${change.maker} ${change.lot}.${change.name}`;
  }
};
const valuesOf = (changes: readonly OfferChange[], side: 'before' | 'after') =>
  Object.fromEntries(
    changes.map((change) => [
      nameOf(change),
      change.kind === 'lot-added' ? (side === 'before' ? null : change.wax) : change[side],
    ]),
  );

interface AskedAnswer {
  readonly offered: KeptOffer;
  readonly reason: string | undefined;
  readonly save: () => void;
}

export const groupOfferRoutes = (app: App, context: ServerContext): void => {
  const { running } = context;
  const openOffer = (id: string): KeptOffer => {
    const offered = running.groupOffers.offer(id);
    if (offered === undefined) throw new HttpProblem('unknown-offer');
    if (offered.state !== 'open') throw new HttpProblem('offer-answered');
    return offered;
  };

  app.get(
    '/api/group-offers',
    describeRoute(
      'set-up-lab',
      'set-up',
      'What the group offers this lab, and what each offer would change here',
      {
        description: 'Open offers first, then those that were answered, newest first.',
        response: { 200: Type.Array(GroupOfferView) },
      },
    ),
    (request) => {
      const say = sayToReader(request, running);
      const lab = running.lab();
      return running.groupOffers.all().map((offered) => offerView(offered, lab, say));
    },
  );

  const answerRoute = (
    path: string,
    answer: OfferAnswer,
    { summary, description }: { readonly summary: string; readonly description: string },
    decide: (request: FastifyRequest, asked: AskedAnswer) => void,
  ): void => {
    app.post(
      path,
      describeRoute('set-up-lab', 'set-up', summary, {
        description,
        params: OfferId,
        body: OfferAnswerBody,
        response: { 200: GroupOfferView },
      }),
      (request) => {
        const { id } = request.params;
        const by = authorOf(request);
        decide(request, {
          offered: openOffer(id),
          reason: request.body.reason,
          save: () => running.groupOffers.answer({ id, answer, at: running.now(), by }),
        });
        const offered = running.groupOffers.offer(id);
        if (offered === undefined) throw new HttpProblem('unknown-offer');
        return offerView(offered, running.lab(), sayToReader(request, running));
      },
    );
  };
  const auditedAnswer = (
    action: string,
    { offer }: KeptOffer,
    reason: string | undefined,
  ): AuditedChange => ({ action, subject: ['group-offer', offer.id], reason });

  answerRoute(
    '/api/group-offers/:id/accept',
    'accepted',
    {
      summary: 'Accept an offer of the group: its changes hold from now on',
      description:
        'Refused where it contradicts the lab, the wax or a rule. Hot wax burns and its vapour can ignite: check the ' +
        "maker's sheet before a limit is raised.",
    },
    (request, { offered, reason, save }) => {
      const before = running.lab();
      const found = offerProblems(before, offered.offer, RULES_BY_PLACE);
      if (found.length > 0)
        throw new HttpProblem('lab-contradiction', { errors: found.map((each) => fieldOf('/offer', each)) });
      const changes = offerChanges(before, offered.offer, RULES_BY_PLACE);
      const after = withOffer(before, offered.offer, RULES_BY_PLACE, {
        recordedAt: iso(running.now()),
        recordedBy: authorOf(request),
      });
      const saveAll = (): void => {
        saveDifferences(running.repository, before, after);
        save();
      };
      changeLab(context, request, after, saveAll, {
        ...auditedAnswer('group-offer-accepted', offered, reason),
        before: valuesOf(changes, 'before'),
        after: valuesOf(changes, 'after'),
      });
    },
  );
  answerRoute(
    '/api/group-offers/:id/decline',
    'declined',
    { summary: 'Decline an offer of the group', description: 'Nothing changes here; the group is informed.' },
    (request, { offered, reason, save }) =>
      saveAudited(context, request, save, auditedAnswer('group-offer-declined', offered, reason)),
  );
};
