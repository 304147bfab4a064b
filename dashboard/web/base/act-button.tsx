// The button of one act. Without `onClick` it sends the form that it is in.

import type { ComponentChildren } from 'preact';

export const ActButton = (props: {
  readonly text: ComponentChildren;
  /** Read aloud in place of the text, where the text alone does not name of what. */
  readonly label?: string;
  /** The first act of the screen. */
  readonly isFirst?: boolean;
  readonly isPressed?: boolean;
  readonly disabled?: boolean;
  readonly onClick?: () => void;
}) => (
  <button
    type={props.onClick === undefined ? 'submit' : 'button'}
    class="act"
    aria-label={props.label}
    aria-pressed={props.isPressed}
    data-first={props.isFirst ? 'true' : undefined}
    disabled={props.disabled}
    onClick={props.onClick}
  >
    {props.text}
  </button>
);
