// What became of the act that was just done, shown where it was done.

import type { Trouble } from '../base/api.ts';
import { t } from '../base/messages.ts';
import { troubleText } from '../live/trouble-note.tsx';

export const ActAnswer = (props: { readonly refusal: Trouble | null; readonly isKept: boolean }) => (
  <>
    {props.refusal !== null && <p role="alert">{troubleText(props.refusal)}</p>}
    <p role="status">{props.isKept && t('work.saved')}</p>
  </>
);
