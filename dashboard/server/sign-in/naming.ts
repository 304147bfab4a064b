// Persons by the name that they type: case, blanks and signs that show nothing do not matter, and no two persons share one.

import type { Person, Role } from '../../../lab/person.ts';
import { fieldProblem, HttpProblem } from '../base/problem.ts';
import { OF_PROGRAM } from './actor.ts';

export const nameKey = (name: string): string =>
  name
    .normalize('NFKC')
    .replace(/\p{Default_Ignorable_Code_Point}/gu, '')
    .trim()
    .replace(/\s+/g, ' ')
    .toLowerCase();

export const personNamed = (people: readonly Person[], name: string): Person | undefined =>
  people.find((person) => nameKey(person.name) === nameKey(name)) ??
  people.find((person) => person.id === nameKey(name));

/** Also refuses a name of nothing but signs that show nothing. */
export const refuseNameTaken = (people: readonly Person[], name: string, but?: string): void => {
  if (nameKey(name) === '') throw fieldProblem('/body/name', 'field-invisible-characters');
  const namesake = people.find((person) => person.id !== but && nameKey(person.name) === nameKey(name));
  if (namesake !== undefined || nameKey(name).endsWith(nameKey(OF_PROGRAM)))
    throw new HttpProblem('name-taken', { errors: [{ pointer: '/body/name', code: 'name-taken' }] });
};

/** Letters, digits and `-` from the name; a number after it where two come out alike. */
const idFor = (people: readonly Person[], name: string): string => {
  const plain = name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-');
  const base = plain.replace(/^-+|-+$/g, '').slice(0, 34) || 'person';
  const taken = new Set(people.map((person) => person.id));
  for (let number = 1; ; number += 1) {
    const id = number === 1 ? base : `${base}-${number}`;
    if (!taken.has(id)) return id;
  }
};

export const createPerson = (
  people: readonly Person[],
  name: string,
  role: Role,
  language: Person['language'],
): Person => ({
  id: idFor(people, name),
  name: name.trim(),
  role,
  language,
  temperatureUnit: 'celsius',
  hourCycle: 'h23',
  email: null,
  namesOnLockScreen: false,
  morningHeartbeat: false,
});
