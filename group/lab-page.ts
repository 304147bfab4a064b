// One lab as it stands: its stations as cards, those with an alarm first.

import type { GroupAlarm, StandingMessage } from '../lab/group/group-message.ts';
import { alarmLine } from './alarm-line.ts';
import { escapeHtml, instant, nameOfCode, sayIn } from './html.ts';
import type { LabNeed } from './lab-need.ts';
import type { StoredStanding } from './overview.ts';

type Station = StandingMessage['stations'][number];

const stationCard = (
  station: Station,
  alarms: readonly GroupAlarm[],
  { lab, isSilent }: LabNeed,
  language: string,
): string => {
  const say = sayIn(language, lab.timeZone);
  const degrees = new Intl.NumberFormat(language, { minimumFractionDigits: 1, maximumFractionDigits: 1 });
  const measuredAt = station.measured_at;
  const details = [
    nameOfCode(language, `kind.${station.kind}`, station.kind),
    ...(station.wax === null ? [] : [nameOfCode(language, `wax.${station.wax}`, station.wax)]),
    ...(station.dose_share === null
      ? []
      : [say('group.dose-share', { share: String(Math.round(station.dose_share * 100)) })]),
  ];
  return [
    `<li class="lab"><h3>${escapeHtml(station.name)}</h3>`,
    station.celsius === null
      ? `<p class="silent">${say('group.not-measured')}</p>`
      : `<p class="value">${degrees.format(station.celsius)} °C</p>`,
    // Of a lab without a line it is not known how it is now.
    isSilent ? '' : `<p>${nameOfCode(language, `condition.${station.condition}`, station.condition)}</p>`,
    alarms.length === 0 ? '' : `<ul>${alarms.map((alarm) => alarmLine(alarm, lab, language)).join('')}</ul>`,
    `<p class="dim">${details.join('; ')}</p>`,
    measuredAt === null
      ? ''
      : `<p class="dim">${say('group.measured', { at: instant(Date.parse(measuredAt), language, lab.timeZone) })}</p>`,
    '</li>',
  ].join('');
};

export function labPage({ standing, reportedAt }: StoredStanding, need: LabNeed, language: string): string {
  const say = sayIn(language, standing.time_zone);
  const firstAlarm = ({ id }: Station): number => {
    const place = need.alarms.findIndex(({ subject }) => subject === id);
    return place === -1 ? need.alarms.length : place;
  };
  const stations = [...standing.stations].sort((left, right) => firstAlarm(left) - firstAlarm(right));
  const ids = new Set(stations.map(({ id }) => id));
  const elsewhere = need.alarms.filter(({ subject }) => !ids.has(subject));
  const at = instant(reportedAt, language, standing.time_zone);
  const cards = stations.map((station) =>
    stationCard(
      station,
      need.alarms.filter(({ subject }) => subject === station.id),
      need,
      language,
    ),
  );
  return [
    `<h1>${escapeHtml(standing.name)}</h1>`,
    need.isSilent
      ? `<p class="silent">${say('group.silent-since', { at })}</p>`
      : `<p class="dim">${say('group.reported', { at })}</p>`,
    elsewhere.length === 0
      ? ''
      : `<ul>${elsewhere.map((alarm) => alarmLine(alarm, need.lab, language)).join('')}</ul>`,
    `<ul class="labs">${cards.join('')}</ul>`,
  ].join('');
}
