// Fields for a day and for a time of day in the language and clock of the screen. What is typed is read when it can be;
// what cannot be read stays as it was typed, is marked as wrong, and counts as empty. A day can be picked as well.

import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { t } from '../base/messages.ts';
import { localDay } from '../base/local-days.ts';
import { now, reader } from '../live/lab-state.ts';
import { readClock, readDay, writeClock, writeDay } from './written-time.ts';
import './written-time.css';

export interface WrittenInputProps {
  /** In the form of the wire; empty: none. */
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly id?: string;
  readonly required?: boolean;
  readonly 'aria-label'?: string;
  readonly 'aria-describedby'?: string;
  readonly 'aria-invalid'?: 'true';
}

interface Writing {
  readonly write: (value: string) => string;
  readonly read: (text: string) => string | null;
  readonly example: string;
  readonly wrong: string;
}

const WrittenInput = ({
  value,
  onChange,
  write,
  read,
  example,
  wrong,
  ...more
}: WrittenInputProps & Writing) => {
  const input = useRef<HTMLInputElement>(null);
  const [typed, setTyped] = useState<string | null>(null);
  const isWrong = typed !== null && typed.trim() !== '' && read(typed) === null;
  useLayoutEffect(() => input.current?.setCustomValidity(isWrong ? wrong : ''), [isWrong, wrong]);
  // The form set another value meanwhile.
  useEffect(() => {
    const meant = typed === null ? null : typed.trim() === '' ? '' : read(typed);
    if (meant !== null && meant !== value) setTyped(null);
  }, [value]);
  return (
    <input
      ref={input}
      type="text"
      autoComplete="off"
      spellcheck={false}
      {...more}
      placeholder={example}
      value={typed ?? write(value)}
      onInput={({ currentTarget: { value: text } }) => {
        setTyped(text);
        onChange(read(text) ?? '');
      }}
      onBlur={() => {
        if (!isWrong) setTyped(null);
      }}
    />
  );
};

const EXAMPLE_CLOCK = '07:30';

const CalendarSheet = () => (
  <svg class="mark" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
    <path fill-rule="evenodd" d="M2 4h20v18H2zM4 9v11h16V9zM6 1h2v5H6zM16 1h2v5h-2zM7 12h4v4H7z" />
  </svg>
);

const canPick = (): boolean => 'showPicker' in HTMLInputElement.prototype;

/** Its example is of today, which every field takes. */
export const DayInput = (props: WrittenInputProps) => {
  const picker = useRef<HTMLInputElement>(null);
  const example = writeDay(localDay(now.peek(), reader.value.timeZone), reader.value);
  return (
    <span class="written-day">
      <WrittenInput
        {...props}
        write={(day) => writeDay(day, reader.value)}
        read={(text) => readDay(text, reader.value)}
        example={example}
        wrong={t('written.day-form', { example })}
      />
      {canPick() && (
        <>
          <button
            type="button"
            aria-label={t('written.pick-day')}
            onClick={() => picker.current?.showPicker()}
          >
            <CalendarSheet />
          </button>
          <input
            ref={picker}
            type="date"
            tabIndex={-1}
            aria-hidden="true"
            value={props.value}
            onChange={({ currentTarget: { value } }) => props.onChange(value)}
          />
        </>
      )}
    </span>
  );
};

export const ClockInput = (props: WrittenInputProps) => {
  const example = writeClock(EXAMPLE_CLOCK, reader.value);
  return (
    <WrittenInput
      {...props}
      write={(clock) => writeClock(clock, reader.value)}
      read={readClock}
      example={example}
      wrong={t('written.clock-form', { example })}
    />
  );
};

/** A day and a time of day, `YYYY-MM-DDTHH:MM` in the lab's zone. A time alone is of today. */
export const DayTimeInput = ({
  value,
  onChange,
  today,
  ...more
}: WrittenInputProps & { readonly today: string }) => {
  const [day = '', clock = ''] = value.split('T');
  return (
    <span class="written-day-time">
      <DayInput {...more} value={day} onChange={(next) => onChange(next === '' ? '' : `${next}T${clock}`)} />
      <ClockInput
        aria-label={t('written.clock')}
        value={clock}
        onChange={(next) => onChange(next === '' && day === '' ? '' : `${day || today}T${next}`)}
      />
    </span>
  );
};
