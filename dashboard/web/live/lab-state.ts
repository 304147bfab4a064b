// The lab as this screen shows it: loaded once, then moved by the live line. A value keeps its instant, and
// its age is `ageSeconds`; an old value is never shown as a live one.

import { batch, computed, effect, type Signal, signal, untracked } from '@preact/signals';
import type {
  AlarmView,
  HealthView,
  LiveEvent,
  ProbeView,
  StationLive,
  StationView,
} from '../../api/schemas.ts';
import { read, type Trouble, addReaderSettings } from '../base/api.ts';
import { labStanding, type StationData } from '../base/lab-standing.ts';
import { localeOf } from '../base/messages.ts';
import { settings } from '../base/settings.ts';
import { keepLastKnown, mayKeep, recallLastKnown } from './last-known.ts';
import { type LineEvents, openLine } from './live-line.ts';
import { snapshots } from './snapshots.ts';
import { appendTrend } from './trend.ts';

export type Line = 'opening' | 'up' | 'down';

export const line = signal<Line>('opening');
export const lastReceivedAt = signal<number | null>(null);
export const health = signal<HealthView | null>(null);
export const trouble = signal<Trouble | null>(null);
export const loaded = signal(false);
/** What is shown was kept on this device and is from `lastReceivedAt`: the lab has not answered since the page opened. */
const isLastKnown = signal(false);
/** In the order of the lab; each station is a signal of its own, so that one reading redraws one station. */
export const stations = signal<readonly Signal<StationView>[]>([]);
export const alarms = signal<ReadonlyMap<string, AlarmView>>(new Map());
export const probes = signal<readonly ProbeView[]>([]);
/** Counts up when the lab itself changed, for screens that load more. */
export const labVersion = signal(0);

/** Server time minus this machine's: a wall with a wrong clock must not age readings wrongly. */
const clockOffset = signal(0);
const tick = signal(Date.now());
export const now = computed(() => tick.value + clockOffset.value);
/** Share of the demonstration's past that is simulated already; null when nothing is being prepared. */
export const preparing = computed(() => health.value?.preparing ?? null);
export const timeZone = computed(() => health.value?.timeZone ?? 'UTC');
export const reader = computed(() => ({
  ...settings.value,
  locale: localeOf(settings.value.language),
  timeZone: timeZone.value,
}));
/** For values whose name ends in their unit. */
export const quantityFormat = computed(() => ({
  locale: reader.value.locale,
  temperatureUnit: reader.value.unit,
  hourCycle: reader.value.hourCycle,
  timeZone: reader.value.timeZone,
}));

export const ageSeconds = (station: StationView): number | null =>
  station.at === null ? null : Math.max(0, (now.value - Date.parse(station.at)) / 1000);
/** False for what was never seen, is too old, or whose line is dead: not to be trusted as the state now. */
export const isLive = (station: StationView): boolean => {
  const age = ageSeconds(station);
  return !isLastKnown.value && station.celsius !== null && age !== null && age <= station.staleAfterSeconds;
};

export const openAlarms = computed(() =>
  [...alarms.value.values()].filter((alarm) => alarm.stateCode !== 'A'),
);

/** Whether what is shown of the station is of now, was once measured, or never was. */
export const dataOf = (station: StationView): StationData => {
  if (station.at === null || station.celsius === null) return 'never';
  return isLive(station) ? 'live' : 'silent';
};

export const standing = computed(() =>
  labStanding({
    isLineLost: line.value === 'down',
    isPartFailing: health.value?.status === 'degraded',
    stations: stations.value.map(({ value }) => dataOf(value)),
    alarms: openAlarms.value,
  }),
);

const putAlarm = (alarm: AlarmView): void => {
  const next = new Map(alarms.value);
  if (alarm.stateCode === 'A') next.delete(alarm.id);
  else next.set(alarm.id, alarm);
  alarms.value = next;
};

const showLastKnown = (): void => {
  const recalled = recallLastKnown();
  if (recalled === null) return;
  health.value = { ...recalled.health, preparing: null };
  stations.value = recalled.stations.map((station) => signal(station));
  alarms.value = new Map(recalled.alarms.map((alarm) => [alarm.id, alarm]));
  lastReceivedAt.value = recalled.at;
  isLastKnown.value = true;
  loaded.value = true;
};

const keep = (): void => {
  const lab = health.peek();
  if (lab === null || isLastKnown.peek()) return;
  keepLastKnown({
    at: now.peek(),
    health: lab,
    stations: stations.peek().map((station) => station.peek()),
    alarms: [...alarms.peek().values()],
  });
};

/** Health, stations, alarms and probes as one; null, with the trouble shown, when a needed part did not come. */
const askWhole = async () => {
  const answers = await Promise.all([
    read<HealthView>('/api/health'),
    read<readonly StationView[]>('/api/stations'),
    read<readonly AlarmView[]>('/api/alarms'),
    read<readonly ProbeView[]>('/api/probes'),
  ]);
  const [healthAnswer, stationAnswer, alarmAnswer] = answers;
  const failed = [stationAnswer, alarmAnswer, healthAnswer].find((answer) => !answer.ok);
  if (!failed || failed.ok) return answers;
  trouble.value = failed.trouble;
  if (failed.trouble.status === 0 && !loaded.peek()) batch(showLastKnown);
  return null;
};
type Whole = NonNullable<Awaited<ReturnType<typeof askWhole>>>;

const takeWhole = ([healthAnswer, stationAnswer, alarmAnswer, probeAnswer]: Whole): void => {
  trouble.value = null;
  isLastKnown.value = false;
  if (healthAnswer.ok) {
    // A wall hangs for months; when the program was renewed its screens must be too.
    const before = health.peek()?.version;
    if (
      before !== undefined &&
      healthAnswer.value.version !== undefined &&
      before !== healthAnswer.value.version
    )
      location.reload();
    health.value = healthAnswer.value;
    clockOffset.value = Date.parse(healthAnswer.value.now) - Date.now();
  }
  if (stationAnswer.ok) {
    const shown = new Map(stations.value.map((station) => [station.value.id, station]));
    stations.value = stationAnswer.value.map((view) => {
      const same = shown.get(view.id);
      if (!same) return signal(view);
      same.value = view;
      return same;
    });
  }
  if (alarmAnswer.ok)
    alarms.value = new Map(
      alarmAnswer.value.filter((alarm) => alarm.stateCode !== 'A').map((alarm) => [alarm.id, alarm]),
    );
  if (probeAnswer.ok) probes.value = probeAnswer.value;
  loaded.value = true;
  labVersion.value += 1;
};

const moveStation = (live: StationLive): void => {
  const station = stations.value.find(({ value }) => value.id === live.id);
  if (!station) return;
  const before = station.value;
  station.value = { ...before, ...live, trend: appendTrend(before.trend, live.at, live.celsius) };
};

const moveProbe = (probe: ProbeView): void => {
  const rest = probes.value.filter(({ id }) => id !== probe.id);
  probes.value = [...rest, probe].sort((a, b) => a.id.localeCompare(b.id));
};

/** True when `event` is a change of what is loaded whole. */
const move = (event: LiveEvent): boolean => {
  switch (event.event) {
    case 'station':
      moveStation(event.data);
      return true;
    case 'alarm':
      putAlarm(event.data);
      return true;
    case 'probe':
      moveProbe(event.data);
      return true;
    default:
      return false;
  }
};

const whole = snapshots<Whole, LiveEvent>(askWhole, (answers) => batch(() => takeWhole(answers)), move);
const load = whole.load;

const moveAndKeep = (event: LiveEvent): boolean => {
  const isMove = move(event);
  if (isMove) whole.received(event);
  return isMove;
};
/** For the screen that did something to the alarm and was answered with its present state. */
export const alarmAnswered = (alarm: AlarmView): void => {
  moveAndKeep({ event: 'alarm', data: alarm });
};

/** The past races by without an event of its own; its end comes as `lab`, and by this where that was missed. */
const followPreparing = async (): Promise<void> => {
  const answer = await read<HealthView>('/api/health');
  if (!answer.ok) return;
  if (answer.value.preparing === null) await load();
  else health.value = answer.value;
};

const receive = (name: string, data: unknown): void => {
  const event = { event: name, data } as LiveEvent;
  if (moveAndKeep(event)) return;
  if (event.event === 'lab' || event.event === 'restart') void load();
  else if (event.event === 'beat') {
    clockOffset.value = Date.parse(event.data.now) - Date.now();
    lastReceivedAt.value = now.value;
  }
};

/** So long the line has to come up before the lab is loaded without it. */
const LINE_FIRST_MILLIS = 400;

/**
 * Loads the lab and keeps it moving until the page is left. It is loaded when the line is first up, so that nothing falls
 * between the two, and without it where the line is late or does not come; after that the line itself catches up.
 * Whoever chooses another language, unit or clock gets the alarms worded anew and a line that words them so.
 */
export const startLive = (): void => {
  let caughtUp = false;
  let waiting: ReturnType<typeof setTimeout> | undefined;
  // With each alarm too: a phone that is switched off sends nothing before it goes.
  effect(() => {
    alarms.value;
    if (mayKeep.value && labVersion.value > 0) untracked(keep);
  });
  addEventListener('pagehide', keep);
  document.addEventListener('visibilitychange', keep);
  setInterval(() => {
    tick.value = Date.now();
    if (preparing.peek() !== null) void followPreparing();
  }, 1000);
  const events: LineEvents = {
    onEvent: (name, data) => batch(() => receive(name, data)),
    onUp: () => {
      line.value = 'up';
      clearTimeout(waiting);
      if (!caughtUp || !loaded.value) void load();
      caughtUp = true;
    },
    onDown: () => {
      line.value = 'down';
      if (caughtUp || loaded.peek()) return;
      clearTimeout(waiting);
      void load();
    },
  };
  let address = '';
  let close = (): void => undefined;
  effect(() => {
    const asked = addReaderSettings('/api/live');
    if (asked === address) return;
    address = asked;
    close();
    caughtUp = false;
    close = openLine(() => asked, events);
    clearTimeout(waiting);
    waiting = setTimeout(() => void load(), LINE_FIRST_MILLIS);
  });
};

export const reload = load;
