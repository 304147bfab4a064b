import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readSettings } from './settings.ts';

const base = (more: string): string =>
  `site: lab-1\ngateway: bench-1\nbroker: { url: "mqtt://127.0.0.1" }\nbuffer_file: /tmp/b.db\n${more}`;
const ONE_WIRE = 'one_wire: {}\n';

describe('the settings of a gateway', () => {
  it('are read as they ship', () => {
    const example = readFileSync(join(import.meta.dirname, '../deploy/gateway/gateway.yaml'), 'utf8');
    expect(readSettings(example)).toMatchObject({ gateway: 'bench-1', one_wire: {} });
  });

  it.each([
    ['a field that is not known', `${ONE_WIRE}every_second: 5\n`, /every_second/],
    ['a reserved name', ONE_WIRE, /reserved/, 'station'],
    ['no source', '', /at least one/],
    ['a broker with a password in its address', ONE_WIRE, /broker\/url/, 'bench-1', 'mqtt://a:b@host'],
    [
      'a serial line without its speed',
      'lines: [{ serial: /dev/ttyUSB0, pattern: "(?<value>.*)", probe: p, unit: Cel }]\n',
      /baud/,
    ],
    [
      'a pattern without a value',
      'lines: [{ host: h, port: 1, pattern: ".*", probe: p, unit: Cel }]\n',
      /\(\?<value>/,
    ],
    [
      'a pattern that is none',
      'lines: [{ host: h, port: 1, pattern: "(", probe: p, unit: Cel }]\n',
      /pattern/,
    ],
    [
      'the code of a converter in the wrong unit',
      'modbus: [{ host: h, registers: [{ probe: p, device: 1, table: input, address: 0, type: uint32, code: { chip: max31855 }, unit: Ohm }] }]\n',
      /measures in Cel/,
    ],
    [
      'the code of a converter for platinum without its reference',
      'modbus: [{ host: h, registers: [{ probe: p, device: 1, table: input, address: 0, type: uint16, code: { chip: max31865 }, unit: Ohm }] }]\n',
      /reference_ohms/,
    ],
    ['a converter of a folder elsewhere', 'converters: [{ device: ../x, probe: p }]\n', /device/],
    [
      'one probe from two sources',
      'converters: [{ device: a, probe: p }, { device: b, probe: p }]\n',
      /named twice/,
    ],
    ['lines without a probe', 'lines: [{ host: h, port: 1, pattern: "(?<value>.*)", unit: Cel }]\n', /probe/],
    [
      'host and serial line at once',
      'lines: [{ host: h, port: 1, serial: /dev/x, baud: 9600, pattern: "(?<value>.*)", probe: p, unit: Cel }]\n',
      /either/,
    ],
  ])('are refused with %s', (_, more, message, gateway = 'bench-1', url = 'mqtt://127.0.0.1') => {
    const yaml = base(more).replace('bench-1', gateway).replace('mqtt://127.0.0.1', url);
    expect(() => readSettings(yaml)).toThrow(message);
  });
});
