// A secret that is shown this once: a code, a link, a token. It can be copied; nothing keeps it.

import { ActButton } from '../../base/act-button.tsx';
import { CopyButton } from '../../base/copy-button.tsx';
import { t } from '../../base/messages.ts';
import { LinkForOthers } from '../common/link-for-others.tsx';

export const OneTimeSecret = (props: {
  readonly text: string;
  /** Where the text is a link: its path, which is shown as a code for a camera too. */
  readonly path?: string;
  readonly explain: string;
  readonly onDone: () => void;
}) => {
  return (
    <div class="card" role="status">
      <p>{props.explain}</p>
      <pre class="secret">
        <code>{props.text}</code>
      </pre>
      {props.path !== undefined && <LinkForOthers path={props.path} />}
      <p class="row">
        <CopyButton text={props.text} />
        <ActButton text={t('keys.noted')} onClick={props.onDone} />
      </p>
    </div>
  );
};
