// A way to another page that looks like the button of an act.

import { type MessageKey, t } from './messages.ts';

export const ActLink = (props: {
  readonly href: string;
  readonly text: MessageKey;
  /** The first act of the screen. */
  readonly isFirst?: boolean;
}) => (
  <a class="act" href={props.href} data-first={props.isFirst ? 'true' : undefined}>
    {t(props.text)}
  </a>
);
