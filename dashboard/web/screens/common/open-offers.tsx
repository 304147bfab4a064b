// That the group offers the lab something which waits for an answer. No alarm: it waits until a manager has time for it.

import type { GroupOfferView } from '../../../api/group-offers.ts';
import { t } from '../../base/messages.ts';
import { mayDo } from '../../live/session.ts';
import { useLoaded } from '../../live/use-loaded.ts';

const OFFERS_MILLIS = 60_000;

export const OpenOffers = () => {
  const mayAnswer = mayDo('set-up-lab');
  const offers = useLoaded<readonly GroupOfferView[]>(mayAnswer ? '/api/group-offers' : null, {
    everyMillis: OFFERS_MILLIS,
  });
  const count = (offers.value ?? []).filter(({ state }) => state === 'open').length;
  if (count === 0) return null;
  return (
    <p class="row unclaimed">
      {t('home.offers', { count })}
      <a href="/set-up/group">{t('home.to-offers')}</a>
    </p>
  );
};
