// The words of a message and the order in which they are read.

export interface NoticeText {
  readonly title: string;
  readonly text: string;
  /** Empty where nothing is to be done. */
  readonly action: string;
  readonly caution: string;
  /** What to do comes first. */
  readonly isUrgent: boolean;
}

/** Its parts in the order in which they are read. */
export const partsOf = ({ text, action, caution, isUrgent }: NoticeText): readonly string[] =>
  (isUrgent ? [action, caution, text] : [text, action, caution]).filter((part) => part !== '');
