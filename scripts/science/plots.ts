// The plots of the science page, each computed by the functions that the rules use.

import { randomLcg, randomNormal } from 'd3-random';
import type { BentStickTest } from '../../wax/relaxation/bent-stick-test.ts';
import { flowBand } from '../../wax/heat/flow.ts';
import { openingOf } from '../../wax/relaxation/opening-model.ts';
import { permanentError } from '../../wax/relaxation/predicted-error.ts';
import { reducedCourse } from '../../wax/relaxation/reduced-course.ts';
import { calibrateRelaxation, calibrationCurve } from '../../wax/relaxation/relaxation-calibration.ts';
import { relaxationParameters } from '../../wax/relaxation/relaxation.ts';
import { soakCelsius } from '../../wax/heat/soak.ts';
import { soakBody, soakMaterialOf, type Surroundings } from '../../wax/heat/soak-body.ts';
import { arrheniusRate, thermalFactor } from '../../wax/heat/thermal-rate.ts';
import { thermalStrain } from '../../wax/relaxation/thermal-strain.ts';
import { celsius, epochMillis, joulesPerMole, micrometres, millimetres } from '../../wax/units.ts';
import { waxClass } from '../../wax/wax-class.ts';
import type { WaxClassId } from '../../wax/classes/wax-class-id.ts';
import type { Figure, Line, Panel } from './line-chart.ts';

const range = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step);

/** Only the corners of a course of steps. */
const corners = <P extends readonly number[]>(points: readonly P[]): P[] =>
  points.filter((point, i) => {
    const [before, after] = [points[i - 1], points[i + 1]];
    return before === undefined || after === undefined || point.slice(1).join() !== before.slice(1).join();
  });

const flowPanel = (id: WaxClassId): Panel => {
  const wax = waxClass(id);
  const bands = range(20, 50, 0.05).map((t) => ({ t, band: flowBand(wax, celsius(t)) }));
  const edge = (pick: 'atLeast' | 'atMost'): (readonly [number, number])[] =>
    bands.flatMap(({ t, band }) => {
      const limit = band[pick];
      return limit === null ? [] : [[t, limit.value] as const];
    });
  return {
    title: wax.name,
    x: { label: 'Temperature, °C', domain: [20, 50] },
    y: { label: 'Flow, %', domain: [0, 100] },
    bands: [
      {
        step: true,
        points: corners(
          bands.map(({ t, band }) => [t, band.atLeast?.value ?? 0, band.atMost?.value ?? 100] as const),
        ),
      },
    ],
    lines: [
      { label: 'at least', points: corners(edge('atLeast')), step: true, colour: 2, quiet: true },
      { label: 'at most', points: corners(edge('atMost')), step: true, colour: 1, dashed: true, quiet: true },
    ],
  };
};

const flowBands = (): Figure => ({
  title: 'Flow bands (green line: at least; orange dashes: at most; without a line the limits leave it open)',
  description:
    'Six wax classes; the band that the flow limits of the class leave at each temperature from 20 to 50 °C, as steps.',
  columns: 3,
  panelWidth: 380,
  panelHeight: 280,
  panels: (
    [
      'inlay-type-1',
      'inlay-type-2',
      'sticky',
      'baseplate-soft',
      'baseplate-hard',
      'baseplate-extra-hard',
    ] as const
  ).map(flowPanel),
});

const expansion = (): Figure => ({
  title: 'Thermal expansion from 22 °C (dashed: not measured)',
  description: 'Linear strain in percent from 22 °C for five waxes; the slope jumps at the transition.',
  columns: 1,
  panels: [
    {
      title: 'Linear strain',
      x: { label: 'Temperature, °C', domain: [10, 55] },
      y: { label: 'Strain, %', domain: [-0.5, 4] },
      lines: (
        [
          ['inlay-type-1', 'inlay Type 1'],
          ['baseplate-hard', 'baseplate hard'],
          ['paraffin', 'paraffin'],
          ['beeswax', 'beeswax'],
          ['carnauba', 'carnauba'],
        ] as const
      ).flatMap(([id, label], colour): Line[] => {
        const wax = waxClass(id);
        const from = wax.expansion[0]?.from.value ?? 20;
        const to = wax.measuredTo.value;
        const strain = (t: number) => [t, thermalStrain(wax, celsius(22), celsius(t)) * 100] as const;
        const limit = Math.min(55, wax.melting.high.value);
        return [
          { label: '', points: range(10, from, (from - 10) / 20).map(strain), dashed: true, colour },
          { label: to >= limit ? label : '', points: range(from, to, (to - from) / 60).map(strain), colour },
          ...(to < limit
            ? [{ label, points: range(to, limit, (limit - to) / 40).map(strain), dashed: true, colour }]
            : []),
        ];
      }),
    },
  ],
});

const doseFactor = (): Figure => ({
  title: 'Heat dose: how much faster wax ages than at 70 °C',
  description: 'Acceleration factor on a logarithmic scale from 50 to 120 °C for four activation energies.',
  columns: 1,
  panels: [
    {
      title: 'exp(E/R (1/Tref − 1/T)), Tref = 70 °C',
      x: { label: 'Temperature, °C', domain: [50, 120] },
      y: {
        label: 'Equivalent hours per hour',
        domain: [0.05, 300],
        log: true,
        ticks: [0.1, 0.3, 1, 3, 10, 30, 100, 300],
      },
      lines: [60, 83.144, 100, 120].map((energy, i) => ({
        label: `${energy} kJ/mol`,
        dashed: i % 2 === 1,
        points: range(50, 120, 1).map(
          (t) => [t, thermalFactor(arrheniusRate(joulesPerMole(energy * 1000), celsius(70)), t)] as const,
        ),
      })),
    },
  ],
});

/** Closer at first, where the curve is steep. */
const NIGHT = [...range(0, 0.9, 0.05), ...range(1, 15, 0.25)];

const nightPanel = (t: number, colour: number): Panel => {
  const wax = waxClass('inlay-type-2');
  const params = relaxationParameters(wax);
  const start = epochMillis(0);
  const errors = NIGHT.flatMap((hours) => {
    const to = epochMillis(hours * 3_600_000);
    const course = reducedCourse(
      start,
      [start, to].map((at) => ({ at, celsius: celsius(t) })),
      params.rate,
    );
    const pattern = {
      technique: 'pressed' as const,
      length: millimetres(20),
      frozenAt: start,
      misfit: micrometres(0),
      periods: [{ from: start, to, isHeld: false }],
    };
    return course === null ? [] : [{ hours, ...permanentError(course, pattern, params) }];
  });
  return {
    title: `Night at ${t} °C`,
    x: { label: 'Hours since it was made', domain: [0, 15] },
    y: { label: 'Permanent error, µm', domain: [0, 160] },
    bands: [{ points: errors.map(({ hours, low, high }) => [hours, low, high] as const), colour }],
    lines: [
      {
        label: 'likely',
        points: errors.map(({ hours, likely }) => [hours, likely] as const),
        colour,
        quiet: true,
      },
    ],
  };
};

const nightError = (): Figure => ({
  title: 'Permanent error of a pressed inlay pattern, 20 mm, off its die: generic, uncalibrated',
  description:
    'Permanent error in micrometres over fifteen hours at 18, 22 and 26 °C, with the band from the spread of the assumed parameters.',
  columns: 3,
  panelWidth: 380,
  panelHeight: 320,
  panels: [18, 22, 26].map(nightPanel),
});

const soak = (): Figure => ({
  title: 'Soak: core of a 10 mm inlay stick, from 22 °C into 50 °C',
  description: 'Core temperature over forty minutes in still air, with a fan and in water.',
  columns: 1,
  panels: [
    {
      title: 'Core temperature',
      x: { label: 'Minutes', domain: [0, 40] },
      y: { label: 'Temperature, °C', domain: [20, 52] },
      lines: (
        [
          ['still-air', 'still air'],
          ['fan-air', 'fan'],
          ['water-bath', 'water bath'],
        ] as const satisfies readonly (readonly [Surroundings, string])[]
      ).map(([surroundings, label], i) => {
        const body = soakBody(
          { kind: 'stick', diameter: millimetres(10) },
          soakMaterialOf(waxClass('inlay-type-1')),
          surroundings,
        );
        if (!body.ok) throw new Error(body.problem.code);
        return {
          label,
          dashed: i === 1,
          points: range(0, 40, 0.5).map((minutes) => {
            const core = soakCelsius(body.value, celsius(22), celsius(50), minutes * 60);
            if (!core.ok) throw new Error(core.problem.code);
            return [minutes, core.value] as const;
          }),
        };
      }),
    },
  ],
});

/** Invented readings with a fixed seed, so that the plot shows what a real test would look like. */
const inventTest = (): BentStickTest => {
  const noise = randomNormal.source(randomLcg(0.42))(0, 0.12);
  const truth = [Math.log(6), Math.log(20), 0.5, 1];
  return {
    sticks: [15, 22, 30].map((t) => ({
      celsius: celsius(t),
      openings: [0.5, 1, 2, 4, 8, 16, 24, 32, 48, 72].map((hours) => ({
        hours,
        millimetres:
          openingOf(
            truth,
            { stick: 1, hours, millimetres: 0, temperatures: [{ hours: 0, celsius: celsius(t) }] },
            celsius(22),
          ) + noise(),
      })),
    })),
  };
};

const calibration = (): Figure => {
  const test = inventTest();
  const result = calibrateRelaxation(test);
  if (!result.ok) throw new Error(result.problem.code);
  const curves = [15, 22, 30].map((t) => calibrationCurve(result.value, celsius(t), range(0.05, 75, 0.75)));
  return {
    title: 'Bent-stick test: invented readings, fitted curves, 95 % bands',
    description:
      'Opening in millimetres over three days at 15, 22 and 30 °C: points, fitted curves and their bands.',
    columns: 1,
    panels: [
      {
        title: 'Opening of the stick',
        x: { label: 'Hours', domain: [0, 75] },
        y: { label: 'Opening, mm', domain: [0, 6] },
        bands: curves.map((curve) => ({
          points: curve.map(({ hours, low, high }) => [hours, low, high] as const),
        })),
        lines: curves.map((curve, i) => ({
          label: `${[15, 22, 30][i]} °C`,
          points: curve.map(({ hours, millimetres: mm }) => [hours, mm] as const),
        })),
        dots: test.sticks.map(({ openings }, colour) => ({
          colour,
          points: openings.map(({ hours, millimetres: mm }) => [hours, mm] as const),
        })),
      },
    ],
  };
};

/** File name without ending, and what it shows. */
export const PLOTS: Readonly<Record<string, () => Figure>> = {
  'flow-bands': flowBands,
  expansion,
  'dose-factor': doseFactor,
  'night-error': nightError,
  calibration,
  soak,
};
