// What went wrong in words, and what the person can do about it.

import { reload } from './lab-state.ts';
import type { Trouble } from '../base/api.ts';
import { t } from '../base/messages.ts';

const whatToDo = (trouble: Trouble): string => {
  if (trouble.status === 0) return t('trouble.unreachable');
  if (trouble.status === 401) return t('trouble.sign-in');
  if (trouble.status === 403) return t('trouble.not-allowed');
  if (trouble.status === 404) return t('trouble.not-found');
  if (trouble.status === 429) return t('trouble.too-many');
  return trouble.status >= 500 ? t('trouble.server') : t('trouble.refused');
};

export const troubleText = (trouble: Trouble): string =>
  [trouble.detail, whatToDo(trouble)].filter((part) => part !== '').join(' ');

export const TroubleNote = ({ trouble }: { readonly trouble: Trouble }) => (
  <div class="note" role="alert">
    <h2>{t('trouble.title')}</h2>
    <p>{troubleText(trouble)}</p>
    <p class="row">
      {trouble.status === 401 ? (
        <a class="act" href={`/sign-in?to=${encodeURIComponent(location.pathname)}`}>
          {t('sign-in.title')}
        </a>
      ) : (
        <button type="button" class="act" onClick={() => void reload()}>
          {t('trouble.again')}
        </button>
      )}
    </p>
  </div>
);
