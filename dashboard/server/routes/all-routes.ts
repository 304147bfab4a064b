// Every route, by family, in the order of the description of the interface.

import type { App } from '../base/app.ts';
import type { ServerContext } from '../context/server-context.ts';
import { alarmActRoutes } from './alarm-acts.ts';
import { alarmQualityRoutes } from './alarm-quality.ts';
import { alarmRoutes } from './alarms.ts';
import { authorityRoutes } from './authority.ts';
import { changeCharge } from './charges/change-charge.ts';
import { chargeLot } from './charges/charge-lot.ts';
import { cleanPot } from './charges/clean-pot.ts';
import { intents } from './charges/intents.ts';
import { readCharges } from './charges/read-charges.ts';
import { stationActs } from './charges/station-acts.ts';
import { takeBackCharge } from './charges/take-back.ts';
import { topUpCharge } from './charges/top-up.ts';
import { readEvidence } from './evidence/read-evidence.ts';
import { signCause } from './evidence/sign-cause.ts';
import { trainingRoutes } from './evidence/training.ts';
import { healthRoutes } from './health.ts';
import { liveRoutes } from './live.ts';
import { castingMaterials } from './casting/casting-materials.ts';
import { addLot, changeLot, readLots, removeLot } from './lots/lots.ts';
import { recallLots } from './lots/recall.ts';
import { metricsRoutes } from './metrics.ts';
import { monthRoutes } from './night/month.ts';
import { nightDeliveryRoutes } from './night/night-delivery.ts';
import { readNight } from './night/read-night.ts';
import { noteOnNight, signNight } from './night/sign-night.ts';
import { acknowledgeByLink } from './notices/acknowledge-link.ts';
import { notificationPlan } from './notices/notification-plan.ts';
import { outbox } from './notices/outbox.ts';
import { phoneTest } from './notices/phone-test.ts';
import { ownPhoneRoutes, subscribePhone, unsubscribePhone } from './notices/phones.ts';
import { routeTest } from './notices/route-test.ts';
import { endPattern, resumePattern } from './patterns/end-pattern.ts';
import { eraseCase, recordLifeAct, undoLifeAct } from './patterns/life-acts.ts';
import { fitProof } from './patterns/fit-proof.ts';
import { movePattern } from './patterns/move-pattern.ts';
import { patternBurnout } from './patterns/burnout.ts';
import { patternCasting } from './patterns/pattern-casting.ts';
import { readPatterns } from './patterns/read-patterns.ts';
import { registerPattern } from './patterns/register-pattern.ts';
import { endSessionsOfPerson, invitePerson, removePerson } from './people/access-of-person.ts';
import { accessKeyRoutes } from './people/access-keys.ts';
import { calendarFeedRoute } from './people/calendar-feed.ts';
import { changePassword, setPreferences } from './people/account.ts';
import { auditRoutes } from './people/audit.ts';
import { ownSessionRoutes } from './people/own-sessions.ts';
import { ownSecondFactorRoutes, resetSecondFactor } from './people/second-factor.ts';
import { addPerson, changePerson, listPeople } from './people/people.ts';
import { probeRoutes } from './probes.ts';
import { probeDetailRoutes } from './probe-detail.ts';
import { quarantineRoutes } from './quarantine.ts';
import { readingRoutes } from './readings.ts';
import { demoSignIn } from './session/demo-sign-in.ts';
import { join } from './session/join.ts';
import { session } from './session/session.ts';
import { confirmPassword, signInWithPassword } from './session/sign-in.ts';
import { bentStickRoutes } from './set-up/bent-stick.ts';
import { readLab, readRules } from './set-up/lab.ts';
import { gatewayRoutes } from './set-up/gateways.ts';
import { connectionRoutes } from './set-up/connections.ts';
import { groupLinkRoutes } from './set-up/group-link.ts';
import { groupOfferRoutes } from './set-up/group-offers.ts';
import { labFileRoutes } from './set-up/lab-file.ts';
import { mappingTrial, payloadMappings } from './set-up/payload-mappings.ts';
import { forgetProbes, replaceProbe, saveProbe } from './set-up/probes.ts';
import { saveSite } from './set-up/site.ts';
import { removeStation, saveStation } from './set-up/stations.ts';
import { storedReadingsRoutes } from './set-up/stored-readings.ts';
import { trialRoutes } from './set-up/trial.ts';
import { waxClassRoutes } from './set-up/wax-classes.ts';
import { stationRoutes } from './stations.ts';

type Register = (app: App, context: ServerContext) => void;

const measuring: readonly Register[] = [
  healthRoutes,
  stationRoutes,
  probeRoutes,
  probeDetailRoutes,
  readingRoutes,
  quarantineRoutes,
  liveRoutes,
];
const alarms: readonly Register[] = [alarmRoutes, alarmActRoutes, alarmQualityRoutes];
const notices: readonly Register[] = [
  ownPhoneRoutes,
  subscribePhone,
  unsubscribePhone,
  phoneTest,
  notificationPlan,
  routeTest,
  outbox,
  acknowledgeByLink,
];
const patterns: readonly Register[] = [
  readPatterns,
  registerPattern,
  movePattern,
  recordLifeAct,
  undoLifeAct,
  eraseCase,
  patternCasting,
  patternBurnout,
  fitProof,
  endPattern,
  resumePattern,
];
const reports: readonly Register[] = [readNight, noteOnNight, signNight, nightDeliveryRoutes, monthRoutes];
const evidence: readonly Register[] = [readEvidence, signCause, trainingRoutes];
const charges: readonly Register[] = [
  readCharges,
  changeCharge,
  topUpCharge,
  chargeLot,
  takeBackCharge,
  cleanPot,
  stationActs,
  intents,
];
const lots: readonly Register[] = [readLots, recallLots, addLot, changeLot, removeLot];
const setUp: readonly Register[] = [
  readLab,
  readRules,
  saveSite,
  saveStation,
  removeStation,
  saveProbe,
  replaceProbe,
  forgetProbes,
  payloadMappings,
  mappingTrial,
  trialRoutes,
  waxClassRoutes,
  castingMaterials,
  bentStickRoutes,
  labFileRoutes,
  storedReadingsRoutes,
  gatewayRoutes,
  groupLinkRoutes,
  groupOfferRoutes,
  connectionRoutes,
];
const people: readonly Register[] = [
  session,
  signInWithPassword,
  confirmPassword,
  demoSignIn,
  join,
  setPreferences,
  changePassword,
  ownSessionRoutes,
  ownSecondFactorRoutes,
  listPeople,
  addPerson,
  changePerson,
  removePerson,
  invitePerson,
  endSessionsOfPerson,
  resetSecondFactor,
  accessKeyRoutes,
  calendarFeedRoute,
  auditRoutes,
];

export const ROUTES: readonly Register[] = [
  ...measuring,
  ...alarms,
  ...notices,
  ...patterns,
  ...reports,
  ...evidence,
  ...charges,
  ...lots,
  ...setUp,
  ...people,
  metricsRoutes,
  authorityRoutes,
];
