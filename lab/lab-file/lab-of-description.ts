// The described lab as the lab itself: with the defaults of what the description leaves out, and without history.

import type { DescribedLab } from './described-lab-schema.ts';
import type { Lab, Weekday, WorkingHours } from '../lab.ts';
import { PERSON_DEFAULTS, uncertaintyUntilCalibrated } from './lab-file-defaults.ts';
import { DEFAULT_NOTIFICATION_PLAN } from '../notification-plan.ts';

export function labOf(described: DescribedLab): Lab {
  const {
    site,
    stations = [],
    probes = [],
    people = [],
    notificationPlan: plan,
    waxOverrides = {},
  } = described;
  const hours = (weekday: Weekday): WorkingHours[Weekday] =>
    (site.workingHours?.[weekday] ?? []).map((span) => {
      const [opens = '', closes = ''] = span.split('-');
      return [opens, closes];
    });
  return {
    site: {
      id: site.id,
      name: site.name,
      timeZone: site.timeZone,
      workingHours: {
        mon: hours('mon'),
        tue: hours('tue'),
        wed: hours('wed'),
        thu: hours('thu'),
        fri: hours('fri'),
        sat: hours('sat'),
        sun: hours('sun'),
      },
      holidays: site.holidays ?? [],
      ...(site.patternCare !== undefined && { patternCare: site.patternCare }),
      ...(site.rules !== undefined && { rules: site.rules }),
    },
    stations: stations.map(({ wax, window_celsius: window, ...station }) => {
      const [low, high] = window ?? [];
      return {
        ...station,
        wax: wax ?? null,
        ...(low !== undefined && high !== undefined && { window_celsius: [low, high] as const }),
      };
    }),
    probes: probes.map(({ id, gateway, station, correction_celsius, uncertainty_celsius, ...more }) => ({
      id,
      gateway,
      station: station ?? null,
      correction_celsius: correction_celsius ?? 0,
      uncertainty_celsius: uncertainty_celsius ?? uncertaintyUntilCalibrated(more.sensor),
      ...more,
    })),
    charges: [],
    patterns: [],
    people: people.map((person) => ({ ...PERSON_DEFAULTS, ...person })),
    ...(plan !== undefined && {
      notificationPlan: {
        ...DEFAULT_NOTIFICATION_PLAN,
        ...plan,
        webhooks: (plan.webhooks ?? []).map((webhook) => ({ template: null, ...webhook })),
      },
    }),
    waxOverrides: Object.fromEntries(
      Object.entries(waxOverrides).flatMap(([wax, values]) => (values === undefined ? [] : [[wax, values]])),
    ),
  };
}
