// Name, time zone, working hours and closed days of the lab.

import { ClockInput } from '../../forms/written-time-inputs.tsx';
import { useId, useState } from 'preact/hooks';
import { FORM_FIELDS } from '../../../api/form-fields.ts';
import type { LabView } from '../../../api/lab-bodies.ts';
import { ActButton } from '../../base/act-button.tsx';
import { asRead, put } from '../../base/api.ts';
import { formatDate } from '../../base/format.ts';
import { reader } from '../../live/lab-state.ts';
import { type MessageKey, t, word } from '../../base/messages.ts';
import { TextEntry } from '../../forms/entries.tsx';
import { labChanged } from '../../live/use-loaded.ts';
import { SubmitRow } from '../../forms/saving.tsx';
import { NumberField, type SchemaForm, TextField } from '../../forms/schema-fields.tsx';
import { useForm } from '../../forms/use-form.ts';
import { type Spans, spansOf, spanTexts } from './spans.ts';
import { submitWith } from '../../forms/submit-with.ts';

type Site = LabView['site'];
const DAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
const USUAL = [['08:00', '17:00']] as const satisfies Spans;

/** What a lab enters first: this browser's zone, and hours that most labs have. */
export const firstSite = (site: Site): Site => ({
  ...site,
  name: '',
  timeZone: new Intl.DateTimeFormat().resolvedOptions().timeZone,
  workingHours: Object.fromEntries(DAYS.map((day, index) => [day, index < 5 ? spanTexts(USUAL) : []])),
});

const Day = (props: {
  readonly day: string;
  readonly spans: Spans;
  readonly onChange: (spans: Spans) => void;
}) => {
  const { day, spans, onChange } = props;
  const name = word('day', day);
  const change = (at: number, end: 0 | 1, time: string): void =>
    onChange(
      spans.map((span, index) => (index !== at ? span : end === 0 ? [time, span[1]] : [span[0], time])),
    );
  return (
    <li>
      <fieldset class="hours-day">
        <legend>{name}</legend>
        <div class="hours-spans">
          {spans.length === 0 && <span class="dim">{t('site.closed')}</span>}
          {spans.map(([opens, closes], index) => (
            <span class="row" key={`${day}-${index}`}>
              <ClockInput
                aria-label={t('site.opens')}
                value={opens}
                onChange={(time) => change(index, 0, time)}
              />
              <span aria-hidden="true">–</span>
              <ClockInput
                aria-label={t('site.closes')}
                value={closes}
                onChange={(time) => change(index, 1, time)}
              />
              <ActButton
                text={t('site.remove-hours')}
                onClick={() => onChange(spans.filter((_, at) => at !== index))}
              />
            </span>
          ))}
          <ActButton
            text={t(spans.length === 0 ? 'site.open-day' : 'site.more-hours')}
            onClick={() => onChange([...spans, ...USUAL])}
          />
        </div>
      </fieldset>
    </li>
  );
};

const Holidays = (props: {
  readonly days: readonly string[];
  readonly onChange: (days: string[]) => void;
}) => {
  const [day, setDay] = useState('');
  return (
    <fieldset>
      <legend>{t('site.holidays')}</legend>
      <ul class="chips">
        {props.days.map((closed) => (
          <li key={closed}>
            <ActButton
              text={t('site.holiday-remove', { day: formatDate(closed, reader.value) })}
              onClick={() => props.onChange(props.days.filter((each) => each !== closed))}
            />
          </li>
        ))}
      </ul>
      <TextEntry label="site.holiday" type="date" value={day} onChange={setDay} />
      <p>
        <ActButton
          text={t('site.holiday-add')}
          disabled={day === ''}
          onClick={() => {
            props.onChange([...new Set([...props.days, day])].sort());
            setDay('');
          }}
        />
      </p>
    </fieldset>
  );
};

type Care = NonNullable<Site['patternCare']>;

/** A value that was emptied is the default again. */
const withValue = (care: Care, name: keyof Care, value: number | null): Care => {
  const { [name]: _, ...rest } = care;
  return value === null ? rest : { ...rest, [name]: value };
};

interface CareProps {
  readonly form: SchemaForm;
  readonly care: Care;
  readonly onChange: (care: Care) => void;
}

const CareOfPatterns = ({ form, care, onChange }: CareProps) => {
  const field = (name: keyof Care) => ({
    form,
    at: `patternCare/${name}`,
    value: care[name] ?? null,
    onChange: (value: number | null) => onChange(withValue(care, name, value)),
  });
  return (
    <fieldset>
      <legend>{t('site.pattern-care')}</legend>
      <div class="pair">
        <NumberField
          {...field('standing_minutes')}
          label="site.standing-minutes"
          hint={t('site.standing-minutes-hint')}
        />
        <NumberField
          {...field('room_celsius')}
          label="site.room-celsius"
          hint={t('site.room-celsius-hint')}
        />
        <NumberField {...field('remake_price')} label="site.remake-price" hint={t('site.remake-hint')} />
        <NumberField {...field('remake_minutes')} label="site.remake-minutes" />
      </div>
    </fieldset>
  );
};

export const SiteForm = (props: {
  readonly site: Site;
  /** Of the lab that it was read with. */
  readonly version: number;
  readonly save: MessageKey;
  /** The zone is still that of this browser, and patterns come later. */
  readonly isFirst?: boolean;
  readonly onSaved: (before: Site) => void;
}) => {
  const { saving, draft, change, field, form } = useForm(FORM_FIELDS.site, props.site);
  const zones = useId();
  const times = (
    <>
      <fieldset>
        <legend>{t('site.hours')}</legend>
        <p class="dim">{t('site.hours-hint')}</p>
        <ul class="hours">
          {DAYS.map((day) => (
            <Day
              key={day}
              day={day}
              spans={spansOf(draft.workingHours[day])}
              onChange={(spans) =>
                change({ workingHours: { ...draft.workingHours, [day]: spanTexts(spans) } })
              }
            />
          ))}
        </ul>
      </fieldset>
      <Holidays days={draft.holidays} onChange={(holidays) => change({ holidays })} />
    </>
  );
  return (
    <form
      onSubmit={submitWith(() => {
        void saving.run(
          () => put('/api/site', siteBody(draft), asRead(props.version)),
          () => {
            labChanged();
            props.onSaved(props.site);
          },
        );
      })}
    >
      <div class="pair">
        <TextField {...field('name')} label="site.name" />
        <TextField
          {...field('timeZone')}
          label="site.zone"
          {...(props.isFirst === true && { hint: t('site.zone-hint') })}
          list={zones}
        />
      </div>
      <datalist id={zones}>
        {Intl.supportedValuesOf('timeZone').map((zone) => (
          <option key={zone} value={zone} />
        ))}
      </datalist>
      {props.isFirst === true ? (
        <>
          <p>{t('begin.hours', { opens: USUAL[0][0], closes: USUAL[0][1] })}</p>
          <details>
            <summary>{t('notification-plan.hours-link')}</summary>
            {times}
          </details>
        </>
      ) : (
        times
      )}
      {props.isFirst !== true && (
        <CareOfPatterns
          form={form}
          care={draft.patternCare ?? {}}
          onChange={(patternCare) => change({ patternCare })}
        />
      )}
      <SubmitRow saving={saving} label={props.save} isFirst />
    </form>
  );
};

export const siteBody = ({ id: _, ...site }: Site) => ({
  ...site,
  workingHours: Object.fromEntries(Object.entries(site.workingHours).filter(([, spans]) => spans.length > 0)),
});
