import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_NOTIFICATION_PLAN, type NotificationPlan } from '../../../lab/notification-plan.ts';
import { epochMillis, MILLIS_PER_DAY } from '../../../wax/units.ts';
import { at, labWith } from '../../../tests/duty-for-tests.ts';
import { onDuty } from './on-duty.ts';
import { withoutPerson } from './without-person.ts';

const ZONE = 'Europe/Berlin';
const lab = labWith({});
const PEOPLE = lab.people.map(({ id }) => id);
const plan = (people: readonly string[]): NotificationPlan => ({
  ...DEFAULT_NOTIFICATION_PLAN,
  rota: { people, startsOn: '2031-03-03', handoverTime: '08:00' },
});

describe('a plan without a person who left', () => {
  it('leaves the order of duty as it was when that person was stepped over', () => {
    fc.assert(
      fc.property(
        fc.shuffledSubarray([...PEOPLE], { minLength: 2 }),
        fc.constantFrom(...PEOPLE),
        fc.integer({ min: -400, max: 400 }),
        (people, left, days) => {
          const leaves = epochMillis(at('2031-03-03T07:00:00Z') + days * MILLIS_PER_DAY);
          const others = { ...lab, people: lab.people.filter(({ id }) => id !== left) };
          expect(onDuty(withoutPerson(plan(people), ZONE, left, leaves), others, leaves)).toEqual(
            onDuty(plan(people), others, leaves),
          );
        },
      ),
    );
  });

  it('has no turns where nobody is left to take them, and no absence of who left', () => {
    const absences = [
      { person: 'tom', from: '2031-03-04', to: '2031-03-05' },
      { person: 'ida', from: '2031-03-06', to: '2031-03-06' },
    ];
    const left = withoutPerson({ ...plan(['tom']), absences }, ZONE, 'tom', at('2031-03-04T12:00:00Z'));
    expect(left).toMatchObject({ rota: null, absences: [absences[1]] });
  });
});
