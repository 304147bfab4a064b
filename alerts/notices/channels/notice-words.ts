// The words of notices around the alarm's own text, in both languages. A key without a text does not compile.

import type { Person } from '../../../lab/person.ts';

interface NoticeWords {
  readonly raised: string;
  readonly stillOpen: string;
  readonly cleared: string;
  readonly acknowledged: string;
  readonly shelved: string;
  readonly suppressed: string;
  readonly outOfService: string;
  readonly repeat: string;
  readonly group: string;
  readonly groupMore: string;
  readonly heartbeatTitle: string;
  readonly heartbeat: string;
  readonly testTitle: string;
  readonly test: string;
  readonly do: string;
  readonly acknowledge: string;
  readonly notAcknowledged: string;
  readonly pattern: string;
  readonly footer: string;
  readonly priority: Readonly<Record<'urgent' | 'high' | 'medium' | 'low' | 'notice', string>>;
}

export const NOTICE_WORDS: Readonly<Record<Person['language'], NoticeWords>> = {
  en: {
    raised: '{priority}: {place}',
    stillOpen: 'Still nobody there: {place}',
    cleared: 'Over: {place}',
    acknowledged: '{by} is seeing to it: {place}',
    shelved: 'Put aside by {by} until {until}: {place}',
    suppressed: 'Not wanted now ({why}): {place}',
    outOfService: 'Taken out of service by {by}: {place}',
    repeat: 'This may be a repeat.',
    group: '{count} alarms at once',
    groupMore: 'and {count} more',
    heartbeatTitle: 'Good morning from {lab}',
    heartbeat: 'The watch is awake. Open alarms: {count}.',
    testTitle: 'Alarms reach this phone',
    test: 'A test, sent the whole way that an alarm takes.',
    do: 'Do: {action}',
    acknowledge: 'I am seeing to it',
    notAcknowledged: 'It is not acknowledged: the lab could not be reached or refused. Tap to open.',
    pattern: 'a pattern',
    footer:
      'It informs and is no safety device: every heater needs its own thermal cut-out and a person nearby.',
    priority: { urgent: 'Urgent', high: 'Now', medium: 'Soon', low: 'Today', notice: 'Note' },
  },
  de: {
    raised: '{priority}: {place}',
    stillOpen: 'Noch niemand da: {place}',
    cleared: 'Vorbei: {place}',
    acknowledged: '{by} kümmert sich: {place}',
    shelved: 'Zurückgestellt von {by} bis {until}: {place}',
    suppressed: 'Derzeit unterdrückt ({why}): {place}',
    outOfService: 'Außer Betrieb genommen von {by}: {place}',
    repeat: 'Dies kann eine Wiederholung sein.',
    group: '{count} Alarme auf einmal',
    groupMore: 'und {count} weitere',
    heartbeatTitle: 'Guten Morgen von {lab}',
    heartbeat: 'Die Wache ist wach. Offene Alarme: {count}.',
    testTitle: 'Alarme erreichen dieses Telefon',
    test: 'Eine Probe auf dem ganzen Weg, den ein Alarm nimmt.',
    do: 'Tun: {action}',
    acknowledge: 'Ich kümmere mich',
    notAcknowledged:
      'Nicht quittiert: Das Labor war nicht zu erreichen oder hat abgelehnt. Zum Öffnen tippen.',
    pattern: 'ein Modell',
    footer:
      'Das Programm informiert und ist keine Schutzeinrichtung: Jedes Heizgerät braucht einen eigenen Temperaturbegrenzer und eine Person in der Nähe.',
    priority: { urgent: 'Dringend', high: 'Jetzt', medium: 'Bald', low: 'Heute', notice: 'Hinweis' },
  },
};
