// In which language an answer is worded: asked for by `lang`, else the first of Accept-Language that is spoken.

const LANGUAGES = ['en', 'de'] as const;
export type Language = (typeof LANGUAGES)[number];

const spoken = (tag: string): Language | undefined =>
  LANGUAGES.find((language) => tag.toLowerCase().split('-')[0] === language);

/** RFC 9110 section 12.5.4: tags by weight; what is not spoken is passed over; English at last. */
export const languageOf = (asked: string | undefined, acceptLanguage: string | undefined): Language => {
  const named = asked === undefined ? undefined : spoken(asked);
  if (named !== undefined) return named;
  const accepted = (acceptLanguage ?? '')
    .split(',')
    .map((part) => {
      const [tag = '', ...parameters] = part.trim().split(';');
      const weight = parameters.map((one) => one.trim()).find((one) => one.startsWith('q='));
      return { language: spoken(tag.trim()), weight: weight === undefined ? 1 : Number(weight.slice(2)) };
    })
    .filter((one) => one.language !== undefined && one.weight > 0)
    .sort((one, other) => other.weight - one.weight);
  return accepted[0]?.language ?? 'en';
};
