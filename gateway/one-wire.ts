// Digital one-wire thermometers through the files of the kernel: `BUS/28-.../w1_slave`, two lines with the nine bytes of
// the scratchpad, the verdict of its checksum and thousandths of a degree. What the chip answers before its first
// conversion, and what an interrupted bus gives, are faults and no temperatures.

import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { oneWireCelsius } from '../wax/probes/digital-codes.ts';
import { reasonOf } from '../wax/problem-error.ts';
import type { ProbeSource, Sample, SourceFault, Sweep } from './sample.ts';

export interface OneWireSettings {
  /** Folder of the kernel, `/sys/bus/w1/devices`. */
  readonly folder: string;
  /** Names of probes by the id of their chip; a chip without one is its own name. */
  readonly probes?: Readonly<Record<string, string>>;
}

/** Family codes of thermometers with the register layout that is read here. */
const THERMOMETER = /^(28|22|3b|42)-[0-9a-f]{12}$/;
const FILE = /^((?:[0-9a-f]{2} ){9}): crc=[0-9a-f]{2} (YES|NO)\s/;
/** In the seventh byte before the first conversion; after one of exactly 85 °C it is 0x10. Common practice. */
const BEFORE_CONVERSION = 0x0c;

/** The temperature in a kernel file, or the fault. */
export function oneWireValue(text: string): number | Pick<SourceFault, 'code' | 'detail'> {
  const [, hex = '', verdict] = FILE.exec(text) ?? [];
  if (verdict === undefined) return { code: 'unreadable', detail: text.slice(0, 80) };
  const bytes = hex
    .trim()
    .split(' ')
    .map((byte) => Number.parseInt(byte, 16));
  // A bus that is held low reads as noughts, whose checksum is right.
  if (verdict === 'NO' || bytes.every((byte) => byte === 0)) return { code: 'crc', detail: hex.trim() };
  const [low = 0, high = 0, , , , , seventh] = bytes;
  const reading = oneWireCelsius(high * 256 + low);
  if (!reading.ok) return { code: 'out-of-range', detail: hex.trim() };
  return reading.value.maybePowerOn && seventh === BEFORE_CONVERSION
    ? { code: 'power-on', detail: '85 °C before the first conversion' }
    : reading.value.celsius;
}

export function oneWireSource({ folder, probes = {} }: OneWireSettings, now: () => number): ProbeSource {
  const nameOf = (chip: string): string => probes[chip] ?? chip;
  /** Chips that were there once: one that is gone is missed. */
  const expected = new Set(Object.keys(probes));

  const readChip = async (chip: string): Promise<Sample | SourceFault> => {
    const probe = nameOf(chip);
    try {
      const value = oneWireValue(await readFile(join(folder, chip, 'w1_slave'), 'utf8'));
      return typeof value === 'number'
        ? { probe, unit: 'Cel', value, at: now() }
        : { subject: probe, ...value };
    } catch (error) {
      return { subject: probe, code: 'missing', detail: reasonOf(error) };
    }
  };
  return {
    sweep: async (): Promise<Sweep> => {
      let chips: readonly string[];
      try {
        chips = (await readdir(folder)).filter((name) => THERMOMETER.test(name));
      } catch (error) {
        return { samples: [], faults: [{ subject: folder, code: 'missing', detail: reasonOf(error) }] };
      }
      for (const chip of chips) expected.add(chip);
      // One after the other: the bus is shared, and the kernel waits for each conversion.
      const results: (Sample | SourceFault)[] = [];
      for (const chip of [...expected].sort()) results.push(await readChip(chip));
      return {
        samples: results.flatMap((result) => ('probe' in result ? [result] : [])),
        faults: results.flatMap((result) => ('subject' in result ? [result] : [])),
      };
    },
    close: async () => {},
  };
}
