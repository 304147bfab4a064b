// Converters for thermocouples, platinum, ohms and volts through the files of the kernel (industrial I/O): a folder
// `iio:deviceN` with the raw value of each channel, what one step is worth, and an offset.

import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { max31855Linearised, ratioOhms } from '../wax/probes/converter-codes.ts';
import { reasonOf } from '../wax/problem-error.ts';
import type { Result } from '../wax/result.ts';
import { celsius } from '../wax/units.ts';
import type { ProbeSource, Sample, SampleUnit, SourceFault } from './sample.ts';

export interface ConverterSettings {
  /** Name of the chip, its label, or the folder `iio:deviceN` where several have one name. */
  readonly device: string;
  readonly probe: string;
  /** `in_temp` unless set; `in_voltage0`, `in_resistance0`. */
  readonly channel?: string;
  /** Reference resistor of a converter for platinum, whose raw value is a code of 15 bits. */
  readonly referenceOhms?: number;
  /** What is connected to a converter that takes every thermocouple for a straight line. */
  readonly thermocouple?: 'K' | 'T';
}

type Measured = Pick<Sample, 'unit' | 'value'>;

/** Unit of a channel, and what the kernel's figure is divided by: thousandths of a degree and of a volt, ohms. */
const UNITS: readonly (readonly [channel: string, unit: SampleUnit, divisor: number])[] = [
  ['in_temp', 'Cel', 1000],
  ['in_voltage', 'mV', 1],
  ['in_resistance', 'Ohm', 1],
];
const AMBIENT = 'in_temp_ambient';

const isMissing = (error: unknown): boolean => Object(error).code === 'ENOENT';

async function numberIn(file: string): Promise<number> {
  const text = (await readFile(file, 'utf8')).trim();
  const value = text === '' ? Number.NaN : Number(text);
  if (!Number.isFinite(value)) throw new Error(`${file}: “${text.slice(0, 40)}” is no number`);
  return value;
}

/** The first of the files that is there. */
async function firstNumber(files: readonly string[], otherwise: number): Promise<number> {
  for (const file of files)
    try {
      return await numberIn(file);
    } catch (error) {
      if (!isMissing(error)) throw error;
    }
  return otherwise;
}

/** In the kernel's figure: (raw + offset) × scale, or as it has converted it itself. */
async function channelValue(folder: string, channel: string): Promise<number> {
  const of = (last: string) =>
    [`${channel}_${last}`, `${channel.replace(/(?<!\d)\d+$/, '')}_${last}`].map((name) => join(folder, name));
  const converted = await firstNumber([join(folder, `${channel}_input`)], Number.NaN);
  if (!Number.isNaN(converted)) return converted;
  const raw = await numberIn(join(folder, `${channel}_raw`));
  return (raw + (await firstNumber(of('offset'), 0))) * (await firstNumber(of('scale'), 1));
}

const requireValue = (result: Result<number>): number => {
  if (!result.ok) throw new Error(`${result.problem.code} ${JSON.stringify(result.problem.values ?? {})}`);
  return result.value;
};

async function measure(folder: string, settings: ConverterSettings): Promise<Measured> {
  const { channel = 'in_temp', referenceOhms, thermocouple } = settings;
  if (referenceOhms !== undefined)
    return {
      unit: 'Ohm',
      value: requireValue(ratioOhms(await numberIn(join(folder, `${channel}_raw`)), referenceOhms)),
    };
  const [, unit, divisor] = UNITS.find(([beginning]) => channel.startsWith(beginning)) ??
    UNITS[0] ?? ['', 'Cel', 1];
  const value = (await channelValue(folder, channel)) / divisor;
  if (thermocouple === undefined) return { unit, value };
  const coldJunction = (await channelValue(folder, AMBIENT)) / divisor;
  const straight = { celsius: celsius(value), coldJunction: celsius(coldJunction) };
  return { unit, value: requireValue(max31855Linearised(thermocouple, straight)) };
}

/** Every folder under its own name, its chip's and its label. */
async function foldersByName(root: string): Promise<ReadonlyMap<string, readonly string[]>> {
  const folders = new Map<string, string[]>();
  for (const entry of (await readdir(root)).filter((name) => name.startsWith('iio:device')).sort()) {
    const names = new Set([entry]);
    for (const file of ['name', 'label'])
      await readFile(join(root, entry, file), 'utf8').then(
        (text) => names.add(text.trim()),
        () => {},
      );
    for (const name of names) folders.set(name, [...(folders.get(name) ?? []), join(root, entry)]);
  }
  return folders;
}

export function convertersSource(
  root: string,
  converters: readonly ConverterSettings[],
  now: () => number,
): ProbeSource {
  const readOne = async (
    folders: ReadonlyMap<string, readonly string[]>,
    settings: ConverterSettings,
  ): Promise<Sample | SourceFault> => {
    const { device, probe } = settings;
    const [folder, ...more] = folders.get(device) ?? [];
    if (folder === undefined) return { subject: probe, code: 'missing', detail: device };
    if (more.length > 0)
      return {
        subject: probe,
        code: 'unreadable',
        detail: `${more.length + 1} devices are called ${device}`,
      };
    try {
      const { unit, value } = await measure(folder, settings);
      return { probe, unit, at: now(), value: Number(value.toPrecision(9)) };
    } catch (error) {
      // A driver answers with an error where the chip reports a broken or shorted wire.
      return { subject: probe, code: 'out-of-range', detail: `${device}: ${reasonOf(error)}` };
    }
  };
  return {
    sweep: async () => {
      const samples: Sample[] = [];
      const faults: SourceFault[] = [];
      try {
        const folders = await foldersByName(root);
        for (const settings of converters) {
          const result = await readOne(folders, settings);
          if ('subject' in result) faults.push(result);
          else samples.push(result);
        }
      } catch (error) {
        faults.push({ subject: root, code: 'missing', detail: reasonOf(error) });
      }
      return { samples, faults };
    },
    close: async () => {},
  };
}
