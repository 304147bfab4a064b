// Persons, sessions, tokens and wall links as they cross the wire.

import { type Static, Type } from 'typebox';
import { LANGUAGE_CODES } from '../../words/load-languages.ts';
import { MAIL_ADDRESS_PATTERN, MAIL_WHEN, ROLES } from '../../lab/person.ts';
import { closed, Instant, Nullable } from './schema-parts.ts';

const Name = Type.String({ minLength: 1, maxLength: 80, pattern: '^(?=.*\\S)[^\\r\\n\\t]*$' });
const Role = Type.Enum([...ROLES], { description: 'viewer, technician or manager' });
const Language = Type.Enum([...LANGUAGE_CODES], { description: 'A language that there are words for' });
const Password = Type.String({ minLength: 1, maxLength: 1024 });
const SecondFactor = Type.String({
  minLength: 1,
  maxLength: 40,
  description: 'A code of the authenticator app, or a recovery code',
});
const Code = Type.String({ minLength: 1, maxLength: 40, description: 'The one-time code' });

export const Preferences = Type.Object(
  {
    language: Language,
    temperatureUnit: Type.Enum(['celsius', 'fahrenheit']),
    hourCycle: Type.Enum(['h12', 'h23']),
    email: Nullable(Type.String({ maxLength: 254, pattern: MAIL_ADDRESS_PATTERN })),
    namesOnLockScreen: Type.Boolean({ description: 'Case references may be shown on the lock screen' }),
    morningHeartbeat: Type.Boolean({ description: 'One message each morning that monitoring is running' }),
    mail: Type.Optional(
      Type.Enum([...MAIL_WHEN], { description: 'When e-mail is written; absent: without a phone only' }),
    ),
  },
  closed,
);
export type Preferences = Static<typeof Preferences>;

export const PersonView = Type.Object({
  id: Type.String(),
  name: Type.String(),
  role: Role,
  ...Preferences.properties,
  language: Type.String({ description: 'English is shown where there are no words for it' }),
  /** False until the person used the invitation. */
  hasPassword: Type.Boolean(),
  secondFactor: Type.Optional(
    Type.Object({ recoveryCodesLeft: Type.Integer() }, { description: 'Absent where the person has none' }),
  ),
});
export type PersonView = Static<typeof PersonView>;

export const SessionView = Type.Object({
  signedIn: Type.Boolean(),
  /** `viewer`, `technician`, `manager`, `screen`, `demo-visitor`; null for nobody. */
  standpoint: Nullable(Type.String()),
  name: Nullable(Type.String()),
  person: Nullable(PersonView),
  /** What this standpoint may do; a screen hides the rest. */
  permissions: Type.Array(Type.String()),
  /** No manager has a password yet: ask for the code that the console printed. */
  needsFirstPerson: Type.Boolean(),
  /** The invented people of the demonstration, whom a visitor on the same machine may be; absent elsewhere. */
  demoPeople: Type.Optional(Type.Array(Type.Object({ id: Type.String(), name: Type.String(), role: Role }))),
});
export type SessionView = Static<typeof SessionView>;

export const DemoSignInBody = Type.Object(
  { person: Type.String({ description: 'Id of a person of the lab' }) },
  closed,
);
export const SignInBody = Type.Object(
  { name: Name, password: Password, secondFactor: Type.Optional(SecondFactor) },
  closed,
);
export const ConfirmBody = Type.Object({ password: Password }, closed);
export const JoinBody = Type.Object(
  {
    code: Code,
    password: Password,
    name: Type.Optional({ ...Name, description: 'Needed by the first person only' }),
    language: Type.Optional(Language),
    secondFactor: Type.Optional(SecondFactor),
  },
  closed,
);
export const NewPasswordBody = Type.Object({ password: Password, newPassword: Password }, closed);

export const NewPersonBody = Type.Object(
  { name: Name, role: Role, preferences: Type.Optional(Type.Partial(Preferences)) },
  closed,
);
export const PersonBody = Type.Object({ name: Name, role: Role, ...Preferences.properties }, closed);

export const InvitationView = Type.Object({
  person: PersonView,
  code: Type.String({ description: 'Shown this once; the person sets a password with it' }),
  expiresAt: Instant,
});
export type InvitationView = Static<typeof InvitationView>;

export const SecondFactorBody = Type.Object({ code: SecondFactor }, closed);
export const NewSecondFactor = Type.Object({
  secret: Type.String({ description: 'Base32, to be typed into the app' }),
  address: Type.String({ description: '`otpauth://totp/...`, which the app reads as a QR code' }),
});
export type NewSecondFactor = Static<typeof NewSecondFactor>;
export const RecoveryCodes = Type.Object({
  recoveryCodes: Type.Array(Type.String(), { description: 'Each serves once in place of a code of the app' }),
});
export type RecoveryCodes = Static<typeof RecoveryCodes>;

export const OpenSession = Type.Object({
  id: Type.String(),
  isThisOne: Type.Boolean(),
  beganAt: Instant,
  seenAt: Instant,
  address: Type.String(),
  agent: Type.String(),
});

export const AccessKeyView = Type.Object({
  id: Type.String(),
  name: Type.String(),
  role: Nullable(Role),
  madeBy: Type.String(),
  madeAt: Instant,
  usedAt: Nullable(Instant),
});
export const NewTokenBody = Type.Object({ name: Name, role: Role }, closed);
export const NewWallLinkBody = Type.Object({ name: Name }, closed);
export const NewAccessKey = Type.Object({
  key: AccessKeyView,
  secret: Type.String({ description: 'Shown this once; only its hash is kept' }),
  path: Nullable(Type.String({ description: 'Of a wall link: what to open on the screen' })),
});
