// An alarm as the server sends it, for tests: over its ceiling now, acknowledged by nobody.

import type { AlarmView } from '../dashboard/api/schemas.ts';

export const alarmView = (facts: Partial<AlarmView>): AlarmView => ({
  id: 'pot.over-ceiling.1',
  rule: 'over-ceiling',
  subject: 'pot',
  subjectKind: 'station',
  station: 'pot',
  stationName: 'Pot',
  priority: 'urgent',
  stateCode: 'B',
  state: 'unacknowledged',
  active: true,
  acknowledged: false,
  latched: false,
  tense: 'now',
  count: 1,
  raisedAt: '2026-11-25T10:00:00Z',
  clearedAt: null,
  acknowledgedAt: null,
  acknowledgedBy: null,
  shelvedUntil: null,
  evidence: {},
  message: '',
  meaning: '',
  action: '',
  caution: '',
  history: [],
  ...facts,
});
