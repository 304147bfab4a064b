// Writes a lab down as a lab file that a person can edit, and that reads back as the same lab. Values that are the
// defaults are left out; charges and patterns are history and are not in the file.

import { Document, type Node, type Scalar, visit, type YAMLMap } from 'yaml';
import type { Lab, Probe, Site } from '../lab.ts';
import { WEEKDAYS } from '../lab.ts';
import { PERSON_DEFAULTS, uncertaintyUntilCalibrated } from './lab-file-defaults.ts';
import type { DescribedLab } from './described-lab-schema.ts';
import { inFileSpelling, keyOfField } from './lab-file-keys.ts';
import type { Person } from '../person.ts';
import type { Station } from '../station.ts';
import { DEFAULT_NOTIFICATION_PLAN, type NotificationPlan } from '../notification-plan.ts';

const COMMENTS: Readonly<Record<keyof DescribedLab, string>> = {
  site: 'The lab itself. The id is in every MQTT topic; a weekday that is not named is closed.',
  stations:
    "Places whose temperature matters. Without window_celsius and ceiling_celsius those of the wax class hold.\nMakers' instructions come first; this program is no safety cut-out.",
  probes:
    'Sensors by the id in their topic. correction_celsius is added to every reading; uncertainty is for k = 2.',
  people: 'Who works here. Sign-in and phones are set up on the screens.',
  notificationPlan:
    'Who is notified of alarms and who next; turns change on the weekday of starts_on. Secrets are never written here.',
  waxOverrides: "The lab's own values of wax classes, shown as such wherever they count.",
};

export function writeLabFile(lab: Lab): string {
  const described: DescribedLab = {
    site: siteFile(lab.site),
    ...(lab.stations.length > 0 && { stations: lab.stations.map(stationFile) }),
    ...(lab.probes.length > 0 && { probes: lab.probes.map(probeFile) }),
    ...(lab.people.length > 0 && { people: lab.people.map(personFile) }),
    ...(lab.notificationPlan !== undefined && { notificationPlan: planFile(lab.notificationPlan) }),
    ...(Object.keys(lab.waxOverrides).length > 0 && { waxOverrides: { ...lab.waxOverrides } }),
  };
  const document = new Document(inFileSpelling(described), { aliasDuplicateObjects: false });
  document.commentBefore = ' A lab file of Waxwarden.';
  for (const [section, comment] of Object.entries(COMMENTS)) annotate(document, keyOfField(section), comment);
  // Hours, holidays and windows read better on one line.
  visit(document, {
    Seq: (_, list) => {
      if (list.items.every((item) => (item as Node).commentBefore === undefined && !hasMap(item)))
        list.flow = true;
    },
  });
  return document.toString({ lineWidth: 100, flowCollectionPadding: false });
}

const hasMap = (item: unknown): boolean => typeof item === 'object' && item !== null && 'items' in item;

function annotate(document: Document, section: string, comment: string): void {
  const map = document.contents as YAMLMap<Scalar<string>>;
  const key = map.items.find((pair) => pair.key.value === section)?.key;
  if (key === undefined) return;
  key.commentBefore = comment.replace(/^/gm, ' ');
  // The comment of the whole file brings its own empty line.
  key.spaceBefore = section !== 'site';
}

function siteFile({
  id,
  name,
  timeZone,
  workingHours,
  holidays,
  patternCare,
  rules,
}: Site): DescribedLab['site'] {
  const open = WEEKDAYS.filter((weekday) => workingHours[weekday].length > 0).map(
    (weekday) => [weekday, workingHours[weekday].map((span) => span.join('-'))] as const,
  );
  return {
    id,
    name,
    timeZone,
    ...(open.length > 0 && { workingHours: Object.fromEntries(open) }),
    ...(holidays.length > 0 && { holidays: [...holidays] }),
    ...(patternCare !== undefined && Object.keys(patternCare).length > 0 && { patternCare }),
    ...(rules !== undefined && { rules: structuredClone(rules) }),
  };
}

const stationFile = ({ id, name, kind, wax, window_celsius: window, rules, ...own }: Station) => ({
  id,
  name,
  kind,
  ...(wax !== null && { wax }),
  ...(window !== undefined && { window_celsius: [...window] }),
  ...own,
  ...(rules !== undefined && { rules: structuredClone(rules) }),
});

const probeFile = ({
  id,
  gateway,
  station,
  correction_celsius,
  uncertainty_celsius,
  calibration,
  ...own
}: Probe) => ({
  id,
  gateway,
  ...(station !== null && { station }),
  ...(correction_celsius !== 0 && { correction_celsius }),
  ...(uncertainty_celsius !== uncertaintyUntilCalibrated(own.sensor) && { uncertainty_celsius }),
  ...own,
  ...(calibration !== undefined && { calibration: { ...calibration, points: [...calibration.points] } }),
});

function personFile({ id, name, role, email, ...how }: Person): NonNullable<DescribedLab['people']>[number] {
  const defaults = Object.entries(PERSON_DEFAULTS);
  const differing = Object.entries(how).filter(
    (entry) => !defaults.some(([key, value]) => entry[0] === key && entry[1] === value),
  );
  return { id, name, role, ...(email !== null && { email }), ...Object.fromEntries(differing) };
}

/** What is as it ships is left out; a section without anything else still shows that the lab planned it. */
function planFile({ webhooks, ...plan }: NotificationPlan): NonNullable<DescribedLab['notificationPlan']> {
  const defaults: Readonly<Record<string, unknown>> = { ...DEFAULT_NOTIFICATION_PLAN };
  const differing = Object.entries(plan).filter(
    ([key, value]) => JSON.stringify(value) !== JSON.stringify(defaults[key]),
  );
  return {
    ...structuredClone(Object.fromEntries(differing)),
    ...(webhooks.length > 0 && {
      webhooks: webhooks.map(({ template, ...webhook }) => ({
        ...webhook,
        ...(template !== null && { template }),
      })),
    }),
  };
}
