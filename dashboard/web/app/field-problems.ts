// What a browser finds wrong in a field before a form is sent, in the language of the screen: the browser's own sentence is
// in that of the browser, which on a shared computer is often another.

import { formatNumber } from '../base/format.ts';
import { t } from '../base/messages.ts';
import { reader } from '../live/lab-state.ts';

type Field = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;

const isField = (target: EventTarget | null): target is Field =>
  target instanceof HTMLInputElement ||
  target instanceof HTMLSelectElement ||
  target instanceof HTMLTextAreaElement;

/** As many places as the limit has. */
const limit = (attribute: string | null): string => {
  const places = /\.(\d+)/.exec(attribute ?? '')?.[1]?.length ?? 0;
  return formatNumber(Number(attribute), places, reader.value);
};

/** Empty for what has no sentence here; the browser's own is shown then. */
const sentence = (field: Field): string => {
  const { valueMissing, badInput, rangeUnderflow, rangeOverflow, typeMismatch } = field.validity;
  if (badInput) return t('field-problem.no-number');
  if (valueMissing)
    return t(field instanceof HTMLSelectElement ? 'field-problem.choose' : 'field-problem.missing');
  if (rangeUnderflow) return t('field-problem.at-least', { least: limit(field.getAttribute('min')) });
  if (rangeOverflow) return t('field-problem.at-most', { most: limit(field.getAttribute('max')) });
  return typeMismatch && field instanceof HTMLInputElement && field.type === 'email'
    ? t('field-problem.no-address')
    : '';
};

/** From now on, as long as the page is open. */
export const nameFieldProblems = (): void => {
  const named = new Set<Field>();
  // Before a form is looked at again, which a click or the enter key begins, and while a person types.
  const forget = (): void => {
    for (const field of named) field.setCustomValidity('');
    named.clear();
  };
  for (const event of ['click', 'keydown', 'input', 'change']) addEventListener(event, forget, true);
  addEventListener(
    'invalid',
    ({ target }) => {
      // What a field says of itself stays.
      if (!isField(target) || target.validity.customError) return;
      const text = sentence(target);
      if (text === '') return;
      target.setCustomValidity(text);
      named.add(target);
    },
    true,
  );
};
