// Language, unit, clock and look of this screen, and for a wall from where it is read. Changes hold at once and stay on
// this device.

import { useId } from 'preact/hooks';
import { formatNumber, formatTemperature, formatTime } from '../../base/format.ts';
import { LANGUAGES, languageName, type MessageKey, t } from '../../base/messages.ts';
import { TextEntry } from '../../forms/entries.tsx';
import { changeSettings, type ScreenSettings, settings } from '../../base/settings.ts';
import { now, reader, stations } from '../../live/lab-state.ts';
import { typePixels } from '../common/wall/viewing-distance.ts';
import { wallPlanner } from '../common/wall/wall-plan.ts';
import { LETTER_EMS, SIZES, type TileTexts } from '../common/wall/wall-tile.ts';
import { SetUpWays } from '../set-up/ways.tsx';
import { SignedIn } from './signed-in.tsx';
import '../../forms/choice.css';
import './settings.css';
import { useTitle } from '../../base/use-title.ts';

const Choice = <Key extends 'language' | 'unit' | 'hourCycle' | 'theme'>(props: {
  readonly name: Key;
  readonly label: MessageKey;
  readonly options: readonly ScreenSettings[Key][];
  readonly nameOf: (option: ScreenSettings[Key]) => string;
}) => {
  const id = useId();
  return (
    <fieldset class="choice">
      <legend>{t(props.label)}</legend>
      {props.options.map((value) => (
        <span key={value} class="choice-one">
          <input
            type="radio"
            id={`${id}-${value}`}
            name={props.name}
            checked={settings.value[props.name] === value}
            onChange={() => changeSettings({ [props.name]: value })}
          />
          <label for={`${id}-${value}`}>{props.nameOf(value)}</label>
        </span>
      ))}
    </fieldset>
  );
};

const THEME_NAMES: Readonly<Record<ScreenSettings['theme'], MessageKey>> = {
  system: 'settings.system',
  dark: 'settings.dark',
  light: 'settings.light',
};

const Amount = (props: {
  readonly name: 'distance_metres' | 'diagonal_inches';
  readonly label: MessageKey;
  readonly min: number;
  readonly max: number;
  readonly step: number;
}) => {
  const id = useId();
  return (
    <p class="field">
      <label for={id}>{t(props.label)}</label>
      <input
        id={id}
        type="number"
        inputMode="decimal"
        min={props.min}
        max={props.max}
        step={props.step}
        value={settings.value[props.name]}
        onChange={(event) => {
          const value = event.currentTarget.valueAsNumber;
          if (value >= props.min && value <= props.max) changeSettings({ [props.name]: value });
          else event.currentTarget.value = String(settings.value[props.name]);
        }}
      />
    </p>
  );
};

const Clock = (props: { readonly name: 'nightFrom' | 'nightTo'; readonly label: MessageKey }) => (
  <TextEntry
    type="time"
    label={props.label}
    value={settings.value[props.name]}
    onChange={(time) => {
      if (time !== '') changeSettings({ [props.name]: time });
    }}
  />
);

/** A heater in good order, as the wall shows most stations most of the time. */
const calmTile = (name: string, order: number): TileTexts => ({
  key: `${order}`,
  order,
  isAlarm: false,
  isNotable: false,
  name,
  value: '100.0',
  unit: '°C',
  word: t('condition.in-window'),
  advice: '',
  note: '',
  briefNote: '',
});
const FOOT_SHARE = 0.1;

/** Says what the distance comes to on this very screen, with as many stations as the lab has. */
const ReadableDistance = () => {
  const { distance_metres, diagonal_inches } = settings.value;
  const screenSize = { width_pixels: screen.width, height_pixels: screen.height };
  const pixelsPerArc = typePixels(1, { distance_metres, diagonal_inches, ...screenSize });
  const planFor = wallPlanner(
    stations.value.map((station, index) => calmTile(station.value.name, index)),
    (text) => text.length * LETTER_EMS,
  );
  const plan = planFor({
    width: screen.width / pixelsPerArc,
    height: (screen.height * (1 - FOOT_SHARE)) / pixelsPerArc,
  });
  return (
    <p role="status">
      {t('settings.legibility', {
        count: stations.value.length,
        pages: plan.stations.pages.length,
        metres: formatNumber(distance_metres * plan.stations.scale, 1, reader.value),
        arc: formatNumber(SIZES[plan.level].digits * plan.stations.scale, 0, reader.value),
      })}
    </p>
  );
};

export default function SettingsScreen() {
  const id = useId();
  useTitle(() => t('nav.settings'));
  return (
    <div class="settings">
      <h1>{t('nav.settings')}</h1>
      <SignedIn />
      <SetUpWays />
      <h2>{t('settings.device')}</h2>
      <p class="dim">{t('settings.explain')}</p>
      <Choice name="language" label="settings.language" options={LANGUAGES} nameOf={languageName} />
      <Choice
        name="unit"
        label="settings.unit"
        options={['celsius', 'fahrenheit']}
        nameOf={(unit) => t(unit === 'celsius' ? 'settings.celsius' : 'settings.fahrenheit')}
      />
      <Choice
        name="hourCycle"
        label="settings.hours"
        options={['h23', 'h12']}
        nameOf={(cycle) => t(cycle === 'h23' ? 'settings.h23' : 'settings.h12')}
      />
      <Choice
        name="theme"
        label="settings.theme"
        options={['system', 'dark', 'light']}
        nameOf={(theme) => t(THEME_NAMES[theme])}
      />
      <p class="dim">
        {t('settings.sample', {
          temperature: formatTemperature(72.4, reader.value),
          time: formatTime(now.value, reader.value),
        })}
      </p>
      <h2>{t('settings.wall')}</h2>
      <div class="settings-pair">
        <Amount name="distance_metres" label="settings.distance" min={0.5} max={20} step={0.5} />
        <Amount name="diagonal_inches" label="settings.diagonal" min={5} max={120} step={1} />
      </div>
      <ReadableDistance />
      <p class="choice-one">
        <input
          type="checkbox"
          id={`${id}-night`}
          checked={settings.value.nightDimming}
          onChange={(event) => changeSettings({ nightDimming: event.currentTarget.checked })}
        />
        <label for={`${id}-night`}>{t('settings.night')}</label>
      </p>
      <div class="settings-pair">
        <Clock name="nightFrom" label="settings.night-from" />
        <Clock name="nightTo" label="settings.night-to" />
      </div>
    </div>
  );
}
