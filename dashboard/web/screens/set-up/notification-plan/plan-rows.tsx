// A list of equal lines of a plan, each with its fields and the way out of it, and the way to one more. The focus
// goes into a new line, and stays with the list when a line goes.

import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { ActButton } from '../../../base/act-button.tsx';
import { type MessageKey, t } from '../../../base/messages.ts';

interface PlanRowsProps<T> {
  readonly rows: readonly T[];
  readonly onRows: (rows: T[]) => void;
  readonly fresh: () => T;
  /** As many as the plan may have; absent: no limit. */
  readonly most: number | undefined;
  /** Names a line by its `{number}`. */
  readonly rowName: MessageKey;
  readonly remove: MessageKey;
  readonly add: MessageKey;
  readonly none: MessageKey;
  readonly children: (row: T, change: (row: T) => void, index: number) => ComponentChildren;
}

export const PlanRows = <T,>(props: PlanRowsProps<T>) => {
  const { rows, onRows } = props;
  const adding = useRef<HTMLButtonElement>(null);
  const newest = useRef<HTMLDivElement>(null);
  const isFresh = useRef(false);
  useEffect(() => {
    if (isFresh.current) newest.current?.querySelector<HTMLElement>('input, select')?.focus();
    isFresh.current = false;
  }, [rows.length]);
  return (
    <>
      {rows.length === 0 && <p class="dim">{t(props.none)}</p>}
      {rows.map((row, at) => (
        <fieldset key={at} class="plan-row">
          <legend>{t(props.rowName, { number: at + 1 })}</legend>
          <div class="plan-fields" ref={at === rows.length - 1 ? newest : null}>
            {props.children(
              row,
              (changed) => onRows(rows.map((each, index) => (index === at ? changed : each))),
              at,
            )}
          </div>
          <ActButton
            text={t('set-up.remove')}
            label={t(props.remove, { number: at + 1 })}
            onClick={() => {
              onRows(rows.filter((_, index) => index !== at));
              adding.current?.focus();
            }}
          />
        </fieldset>
      ))}
      <p>
        <button
          ref={adding}
          type="button"
          class="act"
          disabled={rows.length >= (props.most ?? Number.POSITIVE_INFINITY)}
          onClick={() => {
            isFresh.current = true;
            onRows([...rows, props.fresh()]);
          }}
        >
          {t(props.add)}
        </button>
      </p>
    </>
  );
};
