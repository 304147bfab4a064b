import { describe, expect, it } from 'vitest';
import { WAX_CLASS_IDS } from '../../wax/classes/wax-class-id.ts';
import { waxValueNames } from '../../wax/wax-class.ts';
import { inFieldSpelling, inFileSpelling, waxValueKey, waxValuesByKey } from './lab-file-keys.ts';
import { LAB_FILE_SCHEMA } from './lab-file-schema.ts';
import { readLabFile } from './read-lab-file.ts';
import { writeLabFile } from './write-lab-file.ts';

const OLD = `
site: { id: lab, name: Lab, timeZone: Europe/Berlin, workingHours: { mon: [08:00-12:00] } }
stations:
  - { id: pot, name: Pot, kind: melt-pot, wax: inlay-type-2, rules: { left-on: { on_delay_seconds: 60 } } }
probes:
  - { id: p, gateway: g, station: pot, powersOnAt85: true, calibrationDue: 2031-05-01 }
people:
  - { id: tom, name: Tom, role: technician, temperatureUnit: fahrenheit, hourCycle: h12 }
telling:
  rota: { people: [tom], startsOn: 2031-03-03, handoverTime: "08:00" }
  escalation: [{ afterMinutes: 0, who: on-duty }, { afterMinutes: 5, who: managers }]
waxOverrides:
  inlay-type-2: { ceiling: 84, potWindow.low: 68, doseAllowance: 50 }
`;

describe('the keys of the lab file', () => {
  it('are snake_case throughout', () => {
    const keysOf = (schema: unknown): readonly string[] =>
      typeof schema !== 'object' || schema === null
        ? []
        : Object.entries(schema).flatMap(([keyword, value]) => [
            ...(keyword === 'properties' ? Object.keys(Object(value)) : []),
            ...keysOf(value),
          ]);
    const waxIds: readonly string[] = WAX_CLASS_IDS;
    const keys = keysOf(LAB_FILE_SCHEMA).filter((key) => !waxIds.includes(key));
    expect(keys.length).toBeGreaterThan(40);
    expect(keys.filter((key) => !/^[a-z0-9_]+$/.test(key))).toEqual([]);
  });

  it.each(WAX_CLASS_IDS)('of the values of %s are snake_case, one each, and lead back to the value', (id) => {
    const names = waxValueNames(id);
    const byKey = waxValuesByKey(id);
    expect([...byKey.values()]).toEqual(names);
    for (const key of byKey.keys()) expect(key).toMatch(/^[a-z0-9_.-]+$/);
    const lab = { waxOverrides: { [id]: Object.fromEntries(names.map((name, index) => [name, index])) } };
    expect(inFieldSpelling(inFileSpelling(lab))).toEqual(lab);
  });

  it.each([
    ['ceiling', 'ceiling_celsius'],
    ['potWindow.low', 'pot_window.low_celsius'],
    ['flow.0.atMost', 'flow.0.at_most_percent'],
    ['expansion.1.coefficient', 'expansion.1.coefficient_per_kelvin'],
    ['kinetics.activationEnergy', 'kinetics.activation_energy_joules_per_mole'],
    ['relaxation.frozenStrain.dipped', 'relaxation.frozen_strain.dipped_fraction'],
    ['relaxation.beta', 'relaxation.beta'],
  ])('carry the unit of a value: %s is %s', (name, key) => {
    expect(waxValueKey(name)).toBe(key);
  });
});

describe('a lab file of the old spelling', () => {
  it('reads as the same lab as the new spelling, and every old key is noted with its place and new key', () => {
    const old = readLabFile(OLD);
    if (!old.ok) throw new Error(JSON.stringify(old.problems));
    expect(old.lab.site.timeZone).toBe('Europe/Berlin');
    expect(old.lab.notificationPlan?.escalation[1]?.afterMinutes).toBe(5);
    expect(old.lab.waxOverrides).toEqual({
      'inlay-type-2': { ceiling: 84, 'potWindow.low': 68, doseAllowance: 50 },
    });
    expect(old.oldSpellings).toHaveLength(15);
    expect(old.oldSpellings[0]).toEqual({
      path: 'site.timeZone',
      line: 2,
      column: 29,
      oldKey: 'timeZone',
      newKey: 'time_zone',
    });
    const written = writeLabFile(old.lab);
    expect(written).toContain('pot_window.low_celsius: 68');
    expect(readLabFile(written)).toEqual({ ok: true, lab: old.lab, oldSpellings: [] });
  });

  it('is refused where a key is in both spellings', () => {
    const both = readLabFile('site: { id: lab, name: Lab, time_zone: UTC, timeZone: Europe/Berlin }');
    expect(both.ok ? [] : both.problems.map(({ code, path }) => [code, path])).toEqual([
      ['lab-file-unknown-field', 'site.timeZone'],
    ]);
  });

  it('names the value of a wax that it misspells, and the nearest key', () => {
    const wrong = readLabFile(OLD.replace('ceiling: 84', 'cieling: 84'));
    expect(wrong.ok ? [] : wrong.problems).toMatchObject([
      {
        path: 'wax_overrides.inlay-type-2.cieling',
        values: { name: 'cieling', names: expect.stringContaining('ceiling_celsius') },
      },
    ]);
  });
});
