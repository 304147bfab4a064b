// What went wrong in words, and what the person can do about it. The server answers both in the reader's language.

import { reload } from './lab-state.ts';
import { ActButton } from '../base/act-button.tsx';
import type { Trouble } from '../base/api.ts';
import { t } from '../base/messages.ts';
import { ActLink } from '../base/act-link.tsx';

/** Of several fields the first; its pointer is for programs. */
const whatIsWrong = ({ detail, errors }: Trouble): string => errors?.[0]?.detail ?? detail;

/** What the server cannot report: that it is away, and what became of this screen. */
const whatFollows = ({ status }: Trouble): string => {
  if (status === 0) return t('trouble.unreachable');
  if (status === 401) return t('trouble.sign-in');
  return status < 500 && ![403, 404, 429].includes(status) ? t('trouble.refused') : '';
};

export const troubleText = (trouble: Trouble): string =>
  [whatIsWrong(trouble), whatFollows(trouble)].filter((part) => part !== '').join(' ');

export const TroubleNote = ({ trouble }: { readonly trouble: Trouble }) => (
  <div class="note" role="alert">
    <h2>{t('trouble.title')}</h2>
    <p>{troubleText(trouble)}</p>
    <p class="row">
      {trouble.status === 401 ? (
        <ActLink href={`/sign-in?to=${encodeURIComponent(location.pathname)}`} text="sign-in.title" />
      ) : (
        <ActButton text={t('trouble.again')} onClick={() => void reload()} />
      )}
    </p>
  </div>
);
