// Every alarm in German: what happened, what it does to the wax, what to do.

import type { Catalogue } from './rule-words.ts';

const DOSE =
  'Mit {dose_hours} äquivalenten Stunden hat das Wachs {dose_share} seines Wärmebudgets verbraucht: Flüchtiges entweicht, es oxidiert, fließt und schwindet anders.';

export const de: Catalogue = {
  rules: {
    'over-ceiling': {
      message: {
        by: 'certainty',
        cases: {
          over: '{place} ist über der Höchsttemperatur: {value_celsius}, höchstens {ceiling_celsius}.',
          'may-be':
            '{place} ist vielleicht über der Höchsttemperatur: {value_celsius} ± {uncertainty_celsius_difference}, höchstens {ceiling_celsius}.',
        },
      },
      meaning:
        'Über seiner Höchsttemperatur oxidiert das Wachs schnell und verliert Flüchtiges. Es wird dunkel, und was daraus entsteht, fließt und schwindet anders.',
      action:
        'Am Schalter des Geräts herunterregeln oder ausschalten. Thermostat prüfen. Füllung wechseln, wenn das Wachs dunkel ist oder riecht.',
    },
    'fire-risk': {
      message: {
        by: 'step',
        cases: {
          'switch-off': '{place} ist viel zu heiß: {value_celsius}. Ausschalten.',
          smoking: '{place} hat {value_celsius}: Das Wachs raucht.',
          'flash-point': '{place} hat {value_celsius}: Der Wachsdampf kann sich entzünden.',
        },
      },
      meaning:
        'Dentalwachs raucht ab etwa {smoking_celsius}; um {flash_celsius} kann sich Paraffindampf entzünden. Diese Füllung ist verdorben.',
      action:
        'Wenn es gefahrlos geht, am Schalter des Geräts oder am Netz ausschalten. Dampf meiden, lüften, den Deckel liegen lassen, den Topf nicht bewegen.',
    },
    'heading-over': {
      message:
        '{place} steuert über die Höchsttemperatur: jetzt {value_celsius}, {ceiling_celsius} in etwa {left_minutes}.',
      meaning:
        'Die Temperatur liegt über dem Arbeitsbereich und steigt weiter; über der Höchsttemperatur altert das Wachs schnell.',
      action: 'Jetzt herunterregeln und den Thermostat ansehen. Dabeibleiben, bis die Temperatur fällt.',
    },
    runaway: {
      message:
        '{place} steigt weiter, als der Thermostat sonst zulässt: {value_celsius}, sonst höchstens {band_high_celsius}.',
      meaning: 'Der Thermostat hängt vielleicht, oder sein Fühler ist aus dem Wachs gerutscht.',
      action: 'Prüfen, ob der Fühler im Wachs sitzt. Steigt es weiter, am Schalter des Geräts ausschalten.',
    },
    'outside-window': {
      message: {
        by: 'side',
        cases: {
          below:
            '{place} liegt unter dem Arbeitsbereich: {value_celsius}, Bereich {low_celsius} bis {high_celsius}.',
          above:
            '{place} liegt über dem Arbeitsbereich: {value_celsius}, Bereich {low_celsius} bis {high_celsius}.',
        },
      },
      meaning: {
        by: 'side',
        cases: {
          below:
            'Zu kaltes Wachs faltet sich, schließt Luft ein und friert Spannungen in die Modellation ein.',
          above: 'Zu heißes Wachs läuft dünn und schwindet stärker beim Erstarren.',
        },
      },
      action: 'Das Gerät für das Wachs darin einstellen und erst im Arbeitsbereich arbeiten.',
    },
    'left-on': {
      message: '{place} ist noch an: {value_celsius}, und das Labor ist seit {closed_at} geschlossen.',
      meaning:
        'Eine Nacht Wärme kann mehr von einer Füllung verbrauchen als eine Arbeitswoche, und niemand ist da.',
      action: 'Am Schalter des Geräts ausschalten lassen. Ist niemand da, den Bereitschaftsdienst anrufen.',
    },
    'no-heat': {
      message: '{place} wird nicht warm: {value_celsius} seit {flat_minutes}.',
      meaning:
        'Es liegt unter dem Arbeitsbereich ab {low_celsius} und steigt nicht: Damit lässt sich nicht arbeiten.',
      action: 'Stecker, Schalter, Sicherung und Einstellung prüfen. Reparaturen der Fachkraft überlassen.',
    },
    'low-pot': {
      message: '{place} war nach {took_minutes} warm; üblich sind {usual_minutes}.',
      meaning:
        'Wenig Wachs wird schnell warm: Der Stand ist niedrig oder der Topf leer, und der Rest altert schneller.',
      action: 'Stand ansehen und mit demselben Wachs auffüllen.',
    },
    'thermostat-drift': {
      message:
        '{place}: Der Thermostat schwankt um {swing_celsius_difference} alle {period_minutes}; früher waren es {usual_swing_celsius_difference}.',
      meaning: 'Wandert der Schaltpunkt, ist die Temperatur des Wachses ungewiss.',
      action: 'Thermostat prüfen lassen; das Wachs mit einem zweiten Thermometer messen.',
    },
    'uneven-annealer': {
      message:
        '{place} ist ungleichmäßig: {hottest} und {coldest} liegen {spread_celsius_difference} auseinander.',
      meaning: 'Ungleichmäßig erweichtes Wachs behält Spannungen, die die Modellation später verbiegen.',
      action: 'Lüfter, Tür und Beladung prüfen; wenden oder warten, bis es gleichmäßig ist.',
    },
    'soak-incomplete': {
      message: {
        by: 'lacks',
        cases: {
          time: '{place}: {load} kam nach {soaked_minutes} heraus; nötig sind {needed_minutes}.',
          core: '{place}: {load} kam nach {soaked_minutes} mit einem Kern von etwa {core_celsius} heraus; weich ist er ab {soft_celsius}.',
        },
      },
      meaning: 'Der Kern ist härter als die Haut: Beim Formen werden Spannungen eingefroren.',
      action: 'Zurücklegen, bis es bis zum Kern weich ist.',
    },
    'soak-ready': {
      message: '{place}: {load} ist nach {soaked_minutes} bis zum Kern weich.',
      meaning: 'Jetzt lässt es sich spannungsarm formen.',
      action: '',
    },
    'wrong-bath': {
      message:
        '{place} steht auf {value_celsius}; das Wachs darin ({wax}) braucht {low_celsius} bis {high_celsius}.',
      meaning:
        'Ein für ein anderes Wachs eingestelltes Bad lässt dieses zu hart oder zu weich, um die Form zu halten.',
      action: 'Das Bad für dieses Wachs einstellen oder angeben, welches Wachs darin ist.',
    },
    'heat-dose-half': {
      message: '{place}: Die Füllung hat {dose_share} ihres Wärmebudgets verbraucht.',
      meaning: DOSE,
      action: '',
    },
    'heat-dose-high': {
      message: '{place}: Die Füllung hat {dose_share} ihres Wärmebudgets verbraucht.',
      meaning: DOSE,
      action: 'Eine frische Füllung einplanen; altes Wachs nicht endlos auffüllen.',
    },
    'charge-spent': {
      message: '{place}: Die Füllung ist verbraucht ({dose_share} ihres Wärmebudgets).',
      meaning: DOSE,
      action: 'Abkühlen lassen, Wachs entsorgen, Topf reinigen und frisch füllen.',
    },
    'cleaning-due': {
      message: '{place} war seit der letzten Reinigung {hot_hours} heiß.',
      meaning:
        'Erhitztes Wachs hinterlässt klebrige Beläge, die den Fühler isolieren und frisches Wachs verderben.',
      action: 'Den kalten Topf nach Angabe des Herstellers reinigen und hier eintragen.',
    },
    'storage-swing': {
      message:
        '{place} schwankte um {swing_celsius_difference} innerhalb von {window_hours} ({low_celsius} bis {high_celsius}).',
      meaning:
        'Jede Schwankung bewegt die Modellation um ihre Ausdehnung und löst eingefrorene Spannung; sie verzieht sich.',
      action: 'Ursache suchen (Sonne, Fenster, Heizung) und die Passung der Modellationen dort prüfen.',
    },
    'storage-rate': {
      message: '{place} ändert sich um {rate_celsius_per_hour}: jetzt {value_celsius}.',
      meaning: 'Eine schnelle Änderung ist in der Modellation ungleichmäßig und verbiegt sie.',
      action:
        'Nach offenem Fenster, offener Tür, Sonne oder Heizung sehen; Modellationen an einen gleichmäßigen Ort legen.',
    },
    'storage-warm': {
      message:
        '{place} ist zu warm für das Wachs, das dort liegt: {value_celsius}, höchstens {limit_celsius}.',
      meaning: 'Nahe dem Erweichen lösen sich Spannungen in Stunden statt in Wochen, und die Ränder wandern.',
      action: 'Modellationen an einen kühleren, gleichmäßigen Ort legen oder jetzt einbetten.',
    },
    'door-open': {
      message: '{place} steht wohl offen: {value_celsius} statt {usual_celsius}.',
      meaning: 'Die Modellationen nähern sich der Raumtemperatur, mit der Spannung jeder Schwankung.',
      action: 'Tür schließen.',
    },
    'night-swing': {
      message:
        '{place} schwankte über Nacht um {swing_celsius_difference} ({low_celsius} bis {high_celsius}).',
      meaning: 'Was dort lag, hat sich bewegt; das Längste am meisten.',
      action: 'Passung prüfen, bevor eingebettet wird.',
    },
    'pattern-due': {
      message:
        '{place} ({station}): vorhergesagter Fehler {predicted_micrometres}, Toleranz {tolerance_micrometres}, erreicht {due_at}.',
      meaning:
        'Die beim Modellieren eingefrorene Spannung löst sich; je länger sie wartet, desto schlechter passt sie.',
      action: 'Zuerst einbetten, oder die Passung auf dem Stumpf prüfen und die Ränder nachziehen.',
    },
    'pattern-warm': {
      message:
        '{place}: {patterns_count} Modellation(en) liegen zu warm, {value_celsius}, höchstens {limit_celsius}.',
      meaning: 'Nahe dem Erweichen lösen sich Spannungen in Stunden statt in Wochen.',
      action: 'An einen kühleren, gleichmäßigen Ort legen oder jetzt einbetten.',
    },
    'pattern-weekend': {
      message:
        '{place}: {patterns_count} Modellation(en) halten ihre Toleranz nicht, bis das Labor {opens_at} öffnet.',
      meaning: 'Spannung löst sich auch, wenn niemand da ist.',
      action: 'Vor dem Schließen einbetten oder an den kühlsten gleichmäßigen Ort legen.',
    },
    'probe-silent': {
      message: 'Keine Daten von Fühler {place} ({station}) seit {newest_at}.',
      meaning: 'Niemand sieht, wie heiß es hier ist. Der letzte Wert, {value_celsius}, ist alt.',
      action: 'Selbst nachsehen. Fühler, Kabel und Batterie prüfen.',
    },
    'gateway-lost': {
      message: {
        by: 'how',
        cases: {
          'said-offline': 'Gateway {place} ist seit {since_at} weg: {probes_count} Fühler ohne Daten.',
          'all-silent': 'Alle {probes_count} Fühler von Gateway {place} schweigen seit {since_at}.',
          'all-gateways': 'Alle Gateways sind seit {since_at} weg: {probes_count} Fühler ohne Daten.',
        },
      },
      meaning: 'Niemand sieht, wie heiß es dahinter ist. Ist der Strom ausgefallen?',
      action: 'Zuerst selbst nach den Geräten sehen. Dann Strom und Netz des Gateways prüfen.',
    },
    'probe-stuck': {
      message: 'Fühler {place} ({station}) sagt seit {since_at} unverändert {value_celsius}.',
      meaning: 'Eine wirkliche Temperatur bewegt sich immer ein wenig; dieser Wert ist vielleicht keine.',
      action: 'Den Fühler mit der Hand wärmen und sehen, ob er folgt; sonst tauschen.',
    },
    'probe-noisy': {
      message: 'Fühler {place} ({station}) rauscht: {noise_celsius_difference} zwischen den Werten.',
      meaning: 'Grenzen lassen sich damit schlecht beurteilen.',
      action: 'Stecker, Kabel und Schirmung prüfen; von Netzleitungen fernhalten.',
    },
    'probe-jump': {
      message: 'Fühler {place} ({station}) sprang von {from_celsius} auf {value_celsius}.',
      meaning:
        'So schnell kann Wachs sich nicht ändern: Der Fühler wurde bewegt oder hat einen Wackelkontakt.',
      action: 'Prüfen, ob der Fühler sitzt, wo er hingehört.',
    },
    'probe-disagrees': {
      message: 'Fühler {place} und {twin} ({station}) liegen {spread_celsius_difference} auseinander.',
      meaning: 'Mindestens einer ist falsch, und man weiß nicht welcher.',
      action:
        'Beide in Eiswasser oder gegen ein Vergleichsthermometer prüfen; den falschen berichtigen oder tauschen.',
    },
    'calibration-due': {
      message: 'Die Kalibrierung von Fühler {place} ({station}) ist fällig: {due_at}.',
      meaning: 'Für seine Unsicherheit bürgt niemand mehr.',
      action: 'In Eiswasser oder gegen ein Vergleichsthermometer prüfen und die Berichtigung eintragen.',
    },
    'gateway-clock': {
      message: 'Die Uhr von Gateway {place} geht um {lag_minutes} falsch.',
      meaning: 'Seine Werte stehen unter der falschen Zeit; Wärmebudget und Nächte stimmen nicht.',
      action: 'Uhr stellen, oder Werte ohne Zeit senden lassen.',
    },
    'store-failing': {
      message: 'Der Speicher nimmt keine Werte an: {detail}',
      meaning: 'Die Werte warten im Journal; nichts geht verloren, aber die Kurven wachsen nicht.',
      action: 'Prüfen, ob der Speicher läuft und erreichbar ist.',
    },
    'disk-failing': {
      message: 'Die Platte macht Sorge: {detail}',
      meaning: 'Ist sie voll oder kaputt, kann kein Wert aufbewahrt werden, und keiner wird bestätigt.',
      action: 'Platz schaffen oder die Platte tauschen, und die letzte Sicherung prüfen.',
    },
    'nobody-subscribed': {
      message: 'Niemand erfährt von Alarmen: {detail}',
      meaning: 'Außerhalb des Labors würde niemand von einer Überhitzung erfahren.',
      action:
        'Die Bereitschaft selbst verständigen. Dann diese Seite auf ihrem Telefon öffnen, es klingeln lassen und eine Probe senden.',
    },
    'channel-failing': {
      message: 'Über {name} gehen keine Alarme hinaus: {detail}',
      meaning: 'Wer sich darauf verlässt, erfährt nichts.',
      action: 'Einstellungen dieses Wegs prüfen und eine Probe senden.',
    },
  },
  cautions: {
    fire: 'Niemals Wasser auf brennendes oder sehr heißes Wachs: Es zerstäubt und spritzt. Mit einem Deckel ersticken oder Kohlendioxid oder Pulver nehmen. Im Zweifel alle hinaus und die Feuerwehr rufen. Diese Überwachung ist keine Sicherheitsabschaltung: Jedes Gerät braucht seine eigene. Anleitung des Herstellers und örtliche Brandschutz- und Elektrovorschriften gehen vor.',
    'hot-wax':
      'Heißes Wachs verbrennt, klebt und brennt weiter: Haut mit Wasser kühlen, nicht abziehen. Niemals Wasser auf sehr heißes oder brennendes Wachs. Am Schalter des Geräts ausschalten, und nur, wenn es gefahrlos geht; lüften. Diese Überwachung ist keine Sicherheitsabschaltung: Jedes Gerät braucht seine eigene. Anleitung des Herstellers und örtliche Vorschriften gehen vor.',
    unwatched:
      'Was nicht gemessen wird, wird nicht überwacht: Bis wieder Daten da sind, selbst nach den Geräten sehen. Diese Überwachung ist keine Sicherheitsabschaltung.',
    none: '',
  },
  hidden: {
    'warm-up': 'heizt wie bekannt auf',
    'planned-off': 'planmäßig aus',
    cooling: 'kühlt ab',
    behind: 'hinter „{cause}“',
  },
  names: {
    'over-ceiling': 'Über Höchsttemperatur',
    'fire-risk': 'Brandgefahr',
    'heading-over': 'Steuert über Höchsttemperatur',
    runaway: 'Thermostat lässt steigen',
    'outside-window': 'Außerhalb des Arbeitsbereichs',
    'left-on': 'Noch an',
    'no-heat': 'Heizt nicht',
    'low-pot': 'Topf fast leer',
    'thermostat-drift': 'Thermostat wandert',
    'uneven-annealer': 'Wärmeschrank ungleichmäßig',
    'soak-incomplete': 'Nicht durchgewärmt',
    'soak-ready': 'Durchgewärmt',
    'wrong-bath': 'Bad für anderes Wachs',
    'heat-dose-half': 'Halbes Wärmebudget',
    'heat-dose-high': 'Wärmebudget fast verbraucht',
    'charge-spent': 'Füllung verbraucht',
    'cleaning-due': 'Reinigung fällig',
    'storage-swing': 'Lager schwankt',
    'storage-rate': 'Lager ändert sich schnell',
    'storage-warm': 'Lager zu warm',
    'door-open': 'Schrank offen',
    'night-swing': 'Schwankung über Nacht',
    'pattern-due': 'Modellation fällig',
    'pattern-warm': 'Modellationen zu warm',
    'pattern-weekend': 'Modellationen über das Wochenende',
    'probe-silent': 'Keine Daten',
    'gateway-lost': 'Gateway weg',
    'probe-stuck': 'Fühler hängt',
    'probe-noisy': 'Fühler rauscht',
    'probe-jump': 'Fühler sprang',
    'probe-disagrees': 'Fühler uneins',
    'calibration-due': 'Kalibrierung fällig',
    'gateway-clock': 'Gateway-Uhr falsch',
    'store-failing': 'Speicher gestört',
    'disk-failing': 'Platte gestört',
    'nobody-subscribed': 'Niemand erreichbar',
    'channel-failing': 'Meldeweg gestört',
  },
  units: { minutes: 'min', hours: 'h', perHour: 'je Stunde' },
  learned: 'Nachträglich erfahren, geschehen {raised_at}: ',
};
