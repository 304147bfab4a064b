// The described lab as it crosses the wire, for the forms of set-up.

import { type Lab, WEEKDAYS } from '../../../lab/lab.ts';
import type { LabView } from '../../api/lab-bodies.ts';

export const labView = (lab: Lab, isEmpty: boolean, version: number): LabView => ({
  isEmpty,
  version,
  site: {
    ...lab.site,
    holidays: [...lab.site.holidays],
    ...(lab.site.rules === undefined ? {} : { rules: structuredClone(lab.site.rules) }),
    workingHours: Object.fromEntries(
      WEEKDAYS.map((day) => [day, lab.site.workingHours[day].map((span) => span.join('-'))]),
    ),
  },
  stations: lab.stations.map(({ wax, window_celsius: window, rules, ...station }) => ({
    ...station,
    ...(wax === null ? {} : { wax }),
    ...(window === undefined ? {} : { window_celsius: [...window] }),
    ...(rules === undefined ? {} : { rules: structuredClone(rules) }),
  })),
  probes: lab.probes.map(({ station, calibration, ...probe }) => ({
    ...probe,
    ...(station === null ? {} : { station }),
    ...(calibration === undefined
      ? {}
      : { calibration: { ...calibration, points: [...calibration.points] } }),
  })),
  waxOverrides: structuredClone(lab.waxOverrides),
});
