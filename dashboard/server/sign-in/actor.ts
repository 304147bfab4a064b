// Who is behind a request. A union, so that only persons have sessions and only programs have tokens.

import type { Person, Role } from '../../../lab/person.ts';
import type { Standpoint } from './permissions.ts';
import type { RunningLab } from '../../queries/running-lab.ts';

export type Actor =
  | { readonly kind: 'nobody' }
  | { readonly kind: 'demo-visitor' }
  | { readonly kind: 'screen'; readonly link: string; readonly name: string }
  | { readonly kind: 'program'; readonly token: string; readonly name: string; readonly role: Role }
  | {
      readonly kind: 'person';
      readonly person: string;
      readonly name: string;
      readonly role: Role;
      /** Public id of the session, not its secret. */
      readonly session: string;
    };

export const standpointOf = (actor: Exclude<Actor, { kind: 'nobody' }>): Standpoint => {
  switch (actor.kind) {
    case 'demo-visitor':
    case 'screen':
      return actor.kind;
    case 'program':
    case 'person':
      return actor.role;
  }
};

/** Undefined for programs and screens, and for a person who was removed since. */
export const personOf = (actor: Actor, { lab }: Pick<RunningLab, 'lab'>): Person | undefined =>
  actor.kind === 'person' ? lab().people.find(({ id }) => id === actor.person) : undefined;

/** The person, token or link behind it; null for who has none. */
export function ownerOf(actor: Actor): string | null {
  switch (actor.kind) {
    case 'person':
      return `person ${actor.person}`;
    case 'program':
      return `program ${actor.token}`;
    case 'screen':
      return `screen ${actor.link}`;
    case 'demo-visitor':
    case 'nobody':
      return null;
  }
}

/** Follows the name of a program in every history; no person's name may end in it. */
export const OF_PROGRAM = ' (API)';

/** As it is written into histories, which are read in every language. */
export const actorName = (actor: Actor): string => {
  switch (actor.kind) {
    case 'nobody':
      return 'nobody';
    case 'demo-visitor':
      return 'Demo visitor';
    case 'program':
      return `${actor.name}${OF_PROGRAM}`;
    case 'screen':
    case 'person':
      return actor.name;
  }
};
