// What somebody typed into the form of an offer, as its item, or what is wrong with it. Pure.

import type { OfferItem } from '../lab/group/group-offer.ts';
import { hasInvisibleSigns } from '../lab/visible-text.ts';

/** A field of a form that was sent: text, or absent. */
export type Fields = Readonly<Record<string, string | undefined>>;

/** What is offered, before its figures are typed. */
export type OfferSubject =
  | { readonly what: 'wax'; readonly wax: string }
  | { readonly what: 'rule'; readonly place: string; readonly rule: string }
  | { readonly what: 'lot'; readonly wax: string };

export const FORM_TROUBLES = ['nothing', 'no-labs', 'number', 'lot-name', 'note', 'full'] as const;
export type FormTrouble = (typeof FORM_TROUBLES)[number];

const VALUE = 'value.';
const SITE = 'site.';
const MOST_NOTE = 1000;

/** Null for what names no subject. */
export function subjectOf({ what, wax = '', place = '', rule = '' }: Fields): OfferSubject | null {
  if (what === 'wax' || what === 'lot') return wax === '' ? null : { what, wax };
  return what === 'rule' && place !== '' && rule !== '' ? { what, place, rule } : null;
}

export const sitesOf = (fields: Fields): readonly string[] =>
  Object.entries(fields).flatMap(([name, value]) =>
    name.startsWith(SITE) && value !== undefined ? [name.slice(SITE.length)] : [],
  );

const parseNumber = (text: string): number => (text === '' ? Number.NaN : Number(text.replace(',', '.')));

/** Those that were typed, by name; null when one is no number. */
function valuesOf(fields: Fields): Readonly<Record<string, number>> | null {
  const typed = Object.entries(fields).flatMap(([name, text]) =>
    name.startsWith(VALUE) && text !== undefined && text.trim() !== ''
      ? [[name.slice(VALUE.length), parseNumber(text.trim())] as const]
      : [],
  );
  return typed.every(([, value]) => Number.isFinite(value)) ? Object.fromEntries(typed) : null;
}

export type ReadItem =
  | { readonly ok: true; readonly item: OfferItem }
  | { readonly ok: false; readonly trouble: FormTrouble };

const refuseForm = (trouble: FormTrouble): ReadItem => ({ ok: false, trouble });

export function itemOf(subject: OfferSubject, fields: Fields): ReadItem {
  const { note = '' } = fields;
  if (note.length > MOST_NOTE || hasInvisibleSigns(note)) return refuseForm('note');
  const values = valuesOf(fields);
  if (values === null) return refuseForm('number');
  const isEmpty = Object.keys(values).length === 0;
  if (subject.what === 'wax')
    return isEmpty
      ? refuseForm('nothing')
      : { ok: true, item: { kind: 'wax-values', wax: subject.wax, values } };
  if (subject.what === 'rule') {
    const { place, rule } = subject;
    const { enabled = '' } = fields;
    if (isEmpty && enabled === '') return refuseForm('nothing');
    const figures = { ...values, ...(enabled !== '' && { enabled: enabled === 'on' }) };
    return { ok: true, item: { kind: 'rule-figures', place, rule, figures } };
  }
  const maker = (fields.maker ?? '').trim();
  const lot = (fields.lot ?? '').trim();
  if (maker === '' || lot === '') return refuseForm('lot-name');
  const expires = (fields.expires_on ?? '').trim();
  return {
    ok: true,
    item: {
      kind: 'lot',
      maker,
      lot,
      wax: subject.wax,
      expires_on: expires === '' ? null : expires,
      sheet_values: values,
    },
  };
}
