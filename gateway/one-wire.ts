// Digital one-wire thermometers through the files of the kernel: `BUS/28-.../w1_slave`, two lines with the nine bytes of
// the scratchpad, the verdict of its checksum and thousandths of a degree. What the chip answers before its first
// conversion, and what an interrupted bus gives, are faults and no temperatures. Chips whose register has another layout
// are taken by the kernel's thousandths.

import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type OneWireBits, oneWireCelsius } from '../wax/probes/digital-codes.ts';
import { reasonOf } from '../wax/problem-error.ts';
import type { ProbeSource, Sample, SourceFault, Sweep } from './sample.ts';

export interface OneWireSettings {
  /** Folder of the kernel, `/sys/bus/w1/devices`. */
  readonly folder: string;
  /** Names of probes by the id of their chip; a chip without one is its own name. */
  readonly probes?: Readonly<Record<string, string>>;
}

/** Family codes of thermometers (the first byte of a chip's id). */
const THERMOMETER = /^(10|22|28|3b|42)-[0-9a-f]{12}$/;
/** Half degrees and a count of what is left of one: the oldest layout. */
const HALF_DEGREES = '10';
/** Shared by a plain thermometer and a converter of a thermocouple, which sets the highest bit of the fifth byte. */
const MAYBE_CONVERTER = '3b';
const OTHER_LAYOUT = 0x80;
/** In the first byte of a converter: wire broken or shorted. */
const CONVERTER_FAULT = 0x01;
const FILE = /^((?:[0-9a-f]{2} ){9}): crc=[0-9a-f]{2} (YES|NO)\s(?:.*\st=(-?\d+)\s*$)?/s;
/** In the seventh byte before the first conversion; after one of exactly 85 °C it is 0x10. Common practice. */
const BEFORE_CONVERSION = 0x0c;
/** Some copies of the chip never change their seventh byte: from a neighbouring value 85 °C is a temperature. */
const NEIGHBOUR_KELVINS = 2;

type Value = number | Pick<SourceFault, 'code' | 'detail'>;

/** By the kernel's own conversion. */
const byThousandths = (thousandths: string | undefined, detail: string): Value =>
  thousandths === undefined ? { code: 'unreadable', detail } : Number(thousandths) / 1000;

/**
 * The temperature in a kernel file, or the fault.
 * @param family the first two digits of the chip's id
 * @param before the chip's last temperature, °C; null where it has none yet
 */
export function oneWireValue(text: string, family = '28', before: number | null = null): Value {
  const [, hex = '', verdict, thousandths] = FILE.exec(text) ?? [];
  if (verdict === undefined) return { code: 'unreadable', detail: text.slice(0, 80) };
  const bytes = hex
    .trim()
    .split(' ')
    .map((byte) => Number.parseInt(byte, 16));
  const detail = hex.trim();
  // A bus that is held low reads as noughts, whose checksum is right.
  if (verdict === 'NO' || bytes.every((byte) => byte === 0)) return { code: 'crc', detail };
  const [low = 0, high = 0, , , configuration = 0, , seventh] = bytes;
  if (family === HALF_DEGREES) return byThousandths(thousandths, detail);
  if ((configuration & OTHER_LAYOUT) !== 0)
    return family === MAYBE_CONVERTER && (low & CONVERTER_FAULT) !== 0
      ? { code: 'out-of-range', detail: `thermocouple broken or shorted: ${detail}` }
      : byThousandths(thousandths, detail);
  const bits = (9 + ((configuration >> 5) & 3)) as OneWireBits;
  const reading = oneWireCelsius(high * 256 + low, bits);
  if (!reading.ok) return { code: 'out-of-range', detail };
  const { celsius, maybePowerOn } = reading.value;
  const isNeighbour = before !== null && Math.abs(celsius - before) <= NEIGHBOUR_KELVINS;
  return maybePowerOn && seventh === BEFORE_CONVERSION && !isNeighbour
    ? { code: 'power-on', detail: '85 °C before the first conversion' }
    : celsius;
}

export function oneWireSource({ folder, probes = {} }: OneWireSettings, now: () => number): ProbeSource {
  const nameOf = (chip: string): string => probes[chip] ?? chip;
  /** Chips that were there once: one that is gone is missed. */
  const expected = new Set(Object.keys(probes));
  const last = new Map<string, number>();

  const readChip = async (chip: string): Promise<Sample | SourceFault> => {
    const probe = nameOf(chip);
    try {
      const text = await readFile(join(folder, chip, 'w1_slave'), 'utf8');
      const value = oneWireValue(text, chip.slice(0, 2), last.get(chip) ?? null);
      if (typeof value !== 'number') return { subject: probe, ...value };
      last.set(chip, value);
      return { probe, unit: 'Cel', value, at: now() };
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
