// What the group offers: its content, what would change here by it, and the answer of a manager of this lab.

import { useState } from 'preact/hooks';
import type { GroupOfferView, OfferAnswerBody, OfferChangeView } from '../../../api/group-offers.ts';
import { ActButton } from '../../base/act-button.tsx';
import { send } from '../../base/api.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatDate, formatSignificant, formatTemperature } from '../../base/format.ts';
import { Mark } from '../../base/marks.tsx';
import { type MessageKey, ruleName, t, word } from '../../base/messages.ts';
import { TextEntry } from '../../forms/entries.tsx';
import { figureLabel } from '../../forms/figure-label.ts';
import { figureShown } from '../../forms/figure-unit.ts';
import { Refusal, useSaving } from '../../forms/saving.tsx';
import { noteDone } from '../../forms/undo.tsx';
import { isTemperature, waxValueName } from '../../forms/wax-value-name.ts';
import { reader } from '../../live/lab-state.ts';
import { labChanged, type Loaded } from '../../live/use-loaded.ts';
import { submitWith } from '../../forms/submit-with.ts';
import { instantText } from '../../live/instant-text.ts';

const NOTHING = (): string => t('group-offer.nothing');

const waxValue = (name: string, value: number | null): string => {
  if (value === null) return NOTHING();
  return isTemperature(name)
    ? formatTemperature(value, reader.value)
    : formatSignificant(value, reader.value);
};

const ruleValue = (value: number | boolean, unit: string | null): string => {
  if (typeof value === 'boolean') return t(value ? 'group-offer.on' : 'group-offer.off');
  return formatSignificant(unit === null ? value : figureShown(value, unit, reader.value.unit), reader.value);
};

/** What, now, offered. */
const cellsOf = (change: OfferChangeView): readonly [string, string, string] => {
  switch (change.kind) {
    case 'wax-value':
      return [
        t('group-offer.wax-value', { wax: word('wax', change.wax), name: waxValueName(change.name) }),
        waxValue(change.name, change.before),
        waxValue(change.name, change.after),
      ];
    case 'rule-figure': {
      const { figure, rule, unit } = change;
      return [
        t('group-offer.rule-figure', {
          place: change.station ?? t('group-offer.whole-lab'),
          rule: ruleName(rule),
          figure: unit === null ? t('group-offer.switched-on') : figureLabel(rule, figure, unit),
        }),
        ruleValue(change.before, unit),
        ruleValue(change.after, unit),
      ];
    }
    case 'lot-added':
      return [
        t('group-offer.lot', { maker: change.maker, lot: change.lot }),
        NOTHING(),
        t('group-offer.lot-added', { wax: word('wax', change.wax) }),
      ];
    case 'lot-expiry':
    case 'lot-value': {
      const lot = t('group-offer.lot', { maker: change.maker, lot: change.lot });
      return change.kind === 'lot-expiry'
        ? [
            t('group-offer.lot-expiry', { lot }),
            change.before === null ? NOTHING() : formatDate(change.before, reader.value),
            formatDate(change.after, reader.value),
          ]
        : [
            t('group-offer.lot-value', { lot, name: waxValueName(change.name) }),
            waxValue(change.name, change.before),
            waxValue(change.name, change.after),
          ];
    }
  }
};

const Changes = ({ offer }: { readonly offer: GroupOfferView }) => {
  if (offer.changes.length === 0)
    return offer.problems.length === 0 ? <p>{t('group-offer.no-changes')}</p> : null;
  return (
    <DataTable
      rows={offer.changes.map(cellsOf)}
      keyOf={([what]) => what}
      columns={{
        [t('group-offer.what')]: ([what]) => what,
        [t('group-offer.before')]: ([, before]) => before,
        [t('group-offer.offered')]: ([, , after]) => <strong>{after}</strong>,
      }}
    />
  );
};

type Verb = 'accept' | 'decline';
const SURE: Readonly<Record<Verb, MessageKey>> = {
  accept: 'group-offer.accept-sure',
  decline: 'group-offer.decline-sure',
};
const DONE: Readonly<Record<Verb, MessageKey>> = {
  accept: 'group-offer.accepted',
  decline: 'group-offer.declined',
};

const Answer = (props: { readonly offer: GroupOfferView; readonly onAnswered: () => void }) => {
  const { id, concernsHeat, problems } = props.offer;
  const saving = useSaving();
  const [asked, setAsked] = useState<Verb | null>(null);
  const [reason, setReason] = useState('');
  if (asked === null)
    return (
      <p class="row">
        {problems.length === 0 && (
          <ActButton text={t('group-offer.accept')} onClick={() => setAsked('accept')} />
        )}
        <ActButton text={t('group-offer.decline')} onClick={() => setAsked('decline')} />
      </p>
    );
  const body: OfferAnswerBody = reason.trim() === '' ? {} : { reason: reason.trim() };
  return (
    <form
      class="confirm"
      onSubmit={submitWith(() => {
        void saving.run(
          () => send(`/api/group-offers/${id}/${asked}`, body),
          () => {
            noteDone(t(DONE[asked]));
            labChanged();
            props.onAnswered();
          },
        );
      })}
    >
      {asked === 'accept' && concernsHeat && (
        <p class="caution">
          <Mark name="fire-risk" />
          <span>{t('group-offer.heat-caution')}</span>
        </p>
      )}
      <TextEntry label="group-offer.reason" maxLength={500} value={reason} onChange={setReason} />
      <Refusal trouble={saving.refusal} retry={saving.retry} />
      <p class="row">
        <ActButton text={t(SURE[asked])} disabled={saving.busy} />
        <ActButton text={t('group-offer.back')} onClick={() => setAsked(null)} />
      </p>
    </form>
  );
};

const OpenOffer = (props: { readonly offer: GroupOfferView; readonly onAnswered: () => void }) => {
  const { by, note, offeredAt, problems } = props.offer;
  return (
    <section>
      <h3>{t('group-offer.from', { by, at: instantText(offeredAt) })}</h3>
      {note !== '' && <p>{note}</p>}
      <Changes offer={props.offer} />
      {problems.length > 0 && (
        <div class="refusal">
          <p>{t('group-offer.wrong')}</p>
          <ul>
            {problems.map((problem) => (
              <li key={problem}>{problem}</li>
            ))}
          </ul>
        </div>
      )}
      <Answer offer={props.offer} onAnswered={props.onAnswered} />
    </section>
  );
};

const STATES = {
  accepted: 'group-offer.state-accepted',
  declined: 'group-offer.state-declined',
} as const satisfies Readonly<Record<string, MessageKey>>;

const AnsweredOffer = ({ offer }: { readonly offer: GroupOfferView }) => {
  const { answeredAt, answeredBy, by, note, offeredAt, state } = offer;
  return (
    <li>
      {t('group-offer.from', { by, at: instantText(offeredAt) })}
      {note !== '' && ` · ${note}`}{' '}
      {state !== 'open' && answeredAt !== null && (
        <span class="dim">{t(STATES[state], { by: answeredBy ?? '', at: instantText(answeredAt) })}</span>
      )}
    </li>
  );
};

interface GroupOffersProps {
  readonly offers: Loaded<readonly GroupOfferView[]>;
}

export const GroupOffers = ({ offers }: GroupOffersProps) => {
  const all = offers.value ?? [];
  const open = all.filter(({ state }) => state === 'open');
  const answered = all.filter(({ state }) => state !== 'open');
  return (
    <>
      <h2 id="offers">{t('group-offer.title')}</h2>
      <p class="dim">{t('group-offer.explain')}</p>
      <Refusal trouble={offers.trouble} retry={offers.reload} />
      {offers.value !== null && open.length === 0 && <p>{t('group-offer.none')}</p>}
      {open.map((offer) => (
        <OpenOffer key={offer.id} offer={offer} onAnswered={offers.reload} />
      ))}
      {answered.length > 0 && (
        <details>
          <summary>{t('group-offer.past')}</summary>
          <ul>
            {answered.map((offer) => (
              <AnsweredOffer key={offer.id} offer={offer} />
            ))}
          </ul>
        </details>
      )}
    </>
  );
};
