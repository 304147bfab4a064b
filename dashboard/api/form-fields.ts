// The forms of the screens and the fields of each, from the schemas of the requests that they send. The build of the
// screens writes this out as data; a limit is set once, in the schema.

import { ALARM_ACT_BODIES } from './alarm-acts.ts';
import { BentStickBody } from './bent-stick.ts';
import { CastingBody } from './casting.ts';
import { HostNamesBody, MailServerBody } from './connections.ts';
import { type FormFields, formFields } from './field-facts.ts';
import { ProbeBody, SiteBody, StationBody } from './lab-bodies.ts';
import { GroupLinkBody } from './group-link.ts';
import { LotBody } from './lots.ts';
import { PairingCodeBody } from './gateways.ts';
import { NoteBody } from './night.ts';
import { NightDelivery } from './night-delivery.ts';
import { MappingBody } from './payload-mappings.ts';
import { ChangeChargeBody, TakeBackBody, TopUpBody } from './charges.ts';
import { EndPatternBody, LifeActBody, LoadInBody, NewPatternBody } from './patterns.ts';
import {
  ConfirmBody,
  JoinBody,
  NewPasswordBody,
  NewPersonBody,
  NewTokenBody,
  NewWallLinkBody,
  PersonBody,
  Preferences,
  SecondFactorBody,
  SignInBody,
} from './people.ts';
import { NotificationPlanBody } from './notification-plan.ts';
import { TrainingBody } from './training.ts';

export const FORM_FIELDS = {
  site: formFields(SiteBody),
  station: formFields(StationBody),
  probe: formFields(ProbeBody),
  'pairing-code': formFields(PairingCodeBody),
  mapping: formFields(MappingBody),
  'bent-stick': formFields(BentStickBody),
  'notification-plan': formFields(NotificationPlanBody),
  'sign-in': formFields(SignInBody),
  join: formFields(JoinBody),
  password: formFields(NewPasswordBody),
  confirm: formFields(ConfirmBody),
  'second-factor': formFields(SecondFactorBody),
  preferences: formFields(Preferences),
  person: formFields(PersonBody),
  'new-person': formFields(NewPersonBody),
  token: formFields(NewTokenBody),
  'wall-link': formFields(NewWallLinkBody),
  pattern: formFields(NewPatternBody),
  'end-pattern': formFields(EndPatternBody),
  'life-act': formFields(LifeActBody),
  charge: formFields(ChangeChargeBody),
  'top-up': formFields(TopUpBody),
  'take-back': formFields(TakeBackBody),
  load: formFields(LoadInBody),
  lot: formFields(LotBody),
  casting: formFields(CastingBody),
  shelve: formFields(ALARM_ACT_BODIES.shelve),
  'take-out-of-service': formFields(ALARM_ACT_BODIES['take-out-of-service']),
  note: formFields(ALARM_ACT_BODIES.note),
  'group-link': formFields(GroupLinkBody),
  'mail-server': formFields(MailServerBody),
  'host-names': formFields(HostNamesBody),
  'night-note': formFields(NoteBody),
  'night-delivery': formFields(NightDelivery),
  training: formFields(TrainingBody),
} as const satisfies Readonly<Record<string, FormFields>>;
