// In which language an answer is worded: given by `lang`, else the first of Accept-Language that there is.

import { LANGUAGE_CODES } from '../../../words/load-languages.ts';

const codeOf = (tag: string): string | undefined => {
  const wanted = tag.toLowerCase();
  return (
    LANGUAGE_CODES.find((code) => code.toLowerCase() === wanted) ??
    LANGUAGE_CODES.find((code) => code === wanted.split('-')[0])
  );
};

/** RFC 9110 section 12.5.4: tags by weight; languages that are not there are passed over; English at last. */
export const languageOf = (asked: string | undefined, acceptLanguage: string | undefined): string => {
  const named = asked === undefined ? undefined : codeOf(asked);
  if (named !== undefined) return named;
  const accepted = (acceptLanguage ?? '')
    .split(',')
    .flatMap((part) => {
      const [tag = '', ...parameters] = part.trim().split(';');
      const weight = parameters.map((parameter) => parameter.trim()).find((text) => text.startsWith('q='));
      const language = codeOf(tag.trim());
      return language === undefined
        ? []
        : [{ language, weight: weight === undefined ? 1 : Number(weight.slice(2)) }];
    })
    .filter(({ weight }) => weight > 0)
    .sort((left, right) => right.weight - left.weight);
  return accepted[0]?.language ?? 'en';
};
