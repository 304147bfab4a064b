// The routes of those who give figures and lots to labs. Each page works without a script; what was typed goes with
// it from page to page, and is checked anew at the end.

import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type pg from 'pg';
import { isOfferItem } from '../lab/group/group-offer.ts';
import { type Fields, type FormTrouble, itemOf, type OfferSubject, sitesOf, subjectOf } from './give-form.ts';
import { choosePage, entryPage, notGiverPage, offersPart, previewPage } from './give-page.ts';
import { type OfferedLab, offeredLabs, sendOffer, sentOffers, takeBackOffer } from './offers.ts';
import type { GroupPerson } from './people.ts';

/** A box for each of a thousand labs. */
const BODY_BYTES = 256 * 1024;

export interface GiveParts {
  readonly pool: pg.Pool;
  readonly now: () => number;
  readonly page: (request: FastifyRequest, reply: FastifyReply, main: string) => FastifyReply;
  readonly language: (request: FastifyRequest) => string;
  readonly person: (request: FastifyRequest) => GroupPerson | undefined;
}

/** What one page of the form works on. */
interface Asked {
  readonly request: FastifyRequest;
  readonly reply: FastifyReply;
  readonly fields: Fields;
  readonly subject: OfferSubject;
  readonly labs: readonly OfferedLab[];
}

const textFields = (given: unknown): Fields =>
  Object.fromEntries(
    Object.entries(Object(given) as Record<string, unknown>).flatMap(([name, value]) =>
      typeof value === 'string' ? [[name, value]] : [],
    ),
  );

export function giveRoutes(app: FastifyInstance, parts: GiveParts): void {
  const { language, now, page, person, pool } = parts;
  const isGiver = (request: FastifyRequest): boolean => person(request)?.isGiver === true;
  const refuse = (request: FastifyRequest, reply: FastifyReply): FastifyReply =>
    page(request, reply.code(403), notGiverPage(language(request)));

  const start = async (request: FastifyRequest, reply: FastifyReply, place = ''): Promise<FastifyReply> => {
    const speaks = language(request);
    const sent = await sentOffers(pool, person(request)?.site ?? null);
    const main = isGiver(request) ? choosePage(place, speaks) : notGiverPage(speaks);
    return page(request, reply, main + offersPart(sent, isGiver(request), speaks));
  };
  const entry = (asked: Asked, trouble: FormTrouble | null): FastifyReply | Promise<FastifyReply> => {
    const { fields, labs, reply, request, subject } = asked;
    const main = entryPage(subject, labs, fields, trouble, language(request));
    return main === null ? start(request, reply) : page(request, reply, main);
  };

  app.get('/give', async (request, reply) => {
    const fields = textFields(request.query);
    const subject = subjectOf(fields);
    if (subject === null || !isGiver(request)) return start(request, reply, fields.place);
    return entry({ request, reply, fields, subject, labs: await offeredLabs(pool) }, null);
  });

  const step = (path: string, answer: (asked: Asked) => FastifyReply | Promise<FastifyReply>): void => {
    app.post(path, { bodyLimit: BODY_BYTES }, async (request, reply) => {
      if (!isGiver(request)) return refuse(request, reply);
      const fields = textFields(request.body);
      const subject = subjectOf(fields);
      if (subject === null) return start(request, reply);
      return answer({ request, reply, fields, subject, labs: await offeredLabs(pool) });
    });
  };
  const chooseLabs = ({ fields, labs }: Asked): readonly OfferedLab[] => {
    const sites = new Set(sitesOf(fields));
    return labs.filter(({ site }) => sites.has(site));
  };
  const again = (asked: Asked, trouble: FormTrouble) => {
    asked.reply.code(422);
    return entry(asked, trouble);
  };

  step('/give/change', (asked) => entry(asked, null));
  step('/give/preview', (asked) => {
    const { fields, reply, request, subject } = asked;
    const read = itemOf(subject, fields);
    if (!read.ok) return again(asked, read.trouble);
    if (!isOfferItem(read.item)) return again(asked, 'lot-name');
    if (chooseLabs(asked).length === 0) return again(asked, 'no-labs');
    return page(
      request,
      reply,
      previewPage(subject, chooseLabs(asked), read.item, fields, language(request)),
    );
  });
  step('/give/send', async (asked) => {
    const { fields, reply, request, subject } = asked;
    const read = itemOf(subject, fields);
    if (!read.ok) return again(asked, read.trouble);
    if (!isOfferItem(read.item)) return again(asked, 'lot-name');
    const sites = chooseLabs(asked).map(({ site }) => site);
    if (sites.length === 0) return again(asked, 'no-labs');
    const note = (fields.note ?? '').trim();
    const by = person(request)?.name ?? '';
    const isSent = await sendOffer(pool, { note, by, items: [read.item], sites, at: now() });
    return isSent ? reply.redirect('/give', 303) : again(asked, 'full');
  });
  app.post('/give/take-back', async (request, reply) => {
    if (!isGiver(request)) return refuse(request, reply);
    await takeBackOffer(pool, textFields(request.body).offer ?? '');
    return reply.redirect('/give', 303);
  });
}
