// From an hour to a year, and back and forth by half of what is shown.

import { ActButton } from '../../base/act-button.tsx';
import { type MessageKey, t } from '../../base/messages.ts';
import { now } from '../../live/lab-state.ts';
import { moveView, queryOf, SPANS, type Span, type View } from '../common/chart/span.ts';

const LABELS: Readonly<Record<Span, MessageKey>> = {
  hour: 'span.hour',
  shift: 'span.shift',
  day: 'span.day',
  week: 'span.week',
  month: 'span.month',
  year: 'span.year',
};

interface PickerProps {
  readonly view: View;
  readonly onChange: (query: string) => void;
}

export const SpanPicker = ({ view, onChange }: PickerProps) => (
  <div class="spans">
    <fieldset class="span-choice">
      <legend class="unseen">{t('span.label')}</legend>
      {SPANS.map((span) => (
        <ActButton
          key={span}
          text={t(LABELS[span])}
          isPressed={span === view.span}
          onClick={() => onChange(queryOf({ span, to: view.to }))}
        />
      ))}
    </fieldset>
    <fieldset class="span-choice">
      <legend class="unseen">{t('span.move')}</legend>
      <ActButton text={t('span.back')} onClick={() => onChange(queryOf(moveView(view, -1, now.peek())))} />
      <ActButton
        text={t('span.forth')}
        disabled={view.to === null}
        onClick={() => onChange(queryOf(moveView(view, 1, now.peek())))}
      />
      <ActButton
        text={t('span.now')}
        isPressed={view.to === null}
        onClick={() => onChange(queryOf({ span: view.span, to: null }))}
      />
    </fieldset>
  </div>
);
