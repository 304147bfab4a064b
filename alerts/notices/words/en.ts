// Every alarm in English: what happened, what it does to the wax, what to do.

import type { Catalogue } from './rule-words.ts';

const DOSE =
  'At {dose_hours} equivalent hours the wax has used {dose_share} of its allowance: volatile parts go, it oxidises, flows and shrinks differently.';

export const en: Catalogue = {
  rules: {
    'over-ceiling': {
      message: {
        by: 'certainty',
        cases: {
          over: '{place} is over its ceiling: {value_celsius}, ceiling {ceiling_celsius}.',
          'may-be':
            '{place} may be over its ceiling: {value_celsius} ± {uncertainty_celsius_difference}, ceiling {ceiling_celsius}.',
        },
      },
      meaning:
        'Above its ceiling the wax oxidises and loses its volatile parts fast. It darkens, and what is made of it flows and shrinks differently.',
      action:
        'Turn the heater down or off at its own switch. Check its thermostat. Change the charge if the wax is dark or smells.',
    },
    'fire-risk': {
      message: {
        by: 'step',
        cases: {
          'switch-off': '{place} is far too hot: {value_celsius}. Switch it off.',
          smoking: '{place} is at {value_celsius}: the wax smokes.',
          'flash-point': '{place} is at {value_celsius}: the vapour of the wax may catch fire.',
        },
      },
      meaning:
        'Dental wax smokes from about {smoking_celsius}; near {flash_celsius} the vapour of paraffin can ignite. This charge is spoiled.',
      action:
        'If it is safe, switch the heater off at its own switch or at the mains. Keep away from the vapour, air the room, leave the lid on, and do not move the pot.',
    },
    'heading-over': {
      message:
        '{place} is heading over its ceiling: {value_celsius} now, {ceiling_celsius} in about {left_minutes}.',
      meaning: 'It is above its working window and still rising; above the ceiling the wax ages fast.',
      action: 'Turn it down now and look at the thermostat. Stay until it falls.',
    },
    runaway: {
      message:
        '{place} keeps rising above what its thermostat kept: {value_celsius}, usual top {band_high_celsius}.',
      meaning: 'The thermostat may be stuck on, or its sensor has slipped out of the wax.',
      action: 'Check that the sensor sits in the wax. If it goes on rising, switch off at its own switch.',
    },
    'outside-window': {
      message: {
        by: 'side',
        cases: {
          below:
            '{place} is below its working window: {value_celsius}, window {low_celsius} to {high_celsius}.',
          above:
            '{place} is above its working window: {value_celsius}, window {low_celsius} to {high_celsius}.',
        },
      },
      meaning: {
        by: 'side',
        cases: {
          below: 'Wax that is too cold folds and traps air, and strains are frozen into the pattern.',
          above: 'Wax that is too hot runs thin and shrinks more when it sets.',
        },
      },
      action: 'Set the heater for the wax in it, and wait until it is in its window before working.',
    },
    'left-on': {
      message: '{place} is still on: {value_celsius}, and the lab has been closed since {closed_at}.',
      meaning: 'A night of heat can use up more of a charge than a week of work, and nobody is there.',
      action:
        'Have somebody switch it off at its own switch. If nobody should be there, call who is on duty.',
    },
    'no-heat': {
      message: '{place} does not get warm: {value_celsius} for {flat_minutes}.',
      meaning: 'It is below its window of {low_celsius} and does not rise: no work can be done with it.',
      action: 'Check plug, switch and fuse, and the setting. Leave repairs to a licensed person.',
    },
    'low-pot': {
      message: '{place} warmed up in {took_minutes}; usual are {usual_minutes}.',
      meaning: 'Little wax warms fast: the level is low or the pot is dry, and what is left ages faster.',
      action: 'Look at the level and top it up with the same wax.',
    },
    'thermostat-drift': {
      message:
        '{place}: the thermostat swings by {swing_celsius_difference} every {period_minutes}; it used to be {usual_swing_celsius_difference}.',
      meaning: 'A switching point that drifts makes the temperature of the wax uncertain.',
      action: 'Have the thermostat checked; measure the wax with a second thermometer.',
    },
    'uneven-annealer': {
      message: '{place} is uneven: {hottest} and {coldest} differ by {spread_celsius_difference}.',
      meaning: 'Wax that softens unevenly keeps stresses that bend the pattern later.',
      action: 'Check fan, door and loading; turn the load or wait until it is even.',
    },
    'soak-incomplete': {
      message: {
        by: 'lacks',
        cases: {
          time: '{place}: {load} came out after {soaked_minutes}; {needed_minutes} are needed.',
          core: '{place}: {load} came out after {soaked_minutes} with its core at about {core_celsius}; it is soft from {soft_celsius}.',
        },
      },
      meaning: 'The core is harder than the skin: strains are frozen in when it is shaped.',
      action: 'Put it back until it is soft to the core.',
    },
    'soak-ready': {
      message: '{place}: {load} is soft to the core after {soaked_minutes}.',
      meaning: 'It can be shaped with little strain now.',
      action: '',
    },
    'wrong-bath': {
      message:
        '{place} stands at {value_celsius}; the wax in it ({wax}) wants {low_celsius} to {high_celsius}.',
      meaning: 'A bath that is set for another wax leaves this one too hard, or too soft to hold its shape.',
      action: 'Set the bath for this wax, or say which wax is in it.',
    },
    'heat-dose-half': {
      message: '{place}: the charge has used {dose_share} of its heat.',
      meaning: DOSE,
      action: '',
    },
    'heat-dose-high': {
      message: '{place}: the charge has used {dose_share} of its heat.',
      meaning: DOSE,
      action: 'Plan a fresh charge; do not top up old wax endlessly.',
    },
    'charge-spent': {
      message: '{place}: the charge is spent ({dose_share} of its heat).',
      meaning: DOSE,
      action: 'Let it cool, discard the wax, clean the pot and start a fresh charge.',
    },
    'cleaning-due': {
      message: '{place} has been hot for {hot_hours} since it was cleaned.',
      meaning: 'Heated wax leaves gummy deposits that insulate the sensor and spoil fresh wax.',
      action: 'Clean the cold pot as its maker says, then record it here.',
    },
    'storage-swing': {
      message:
        '{place} swung by {swing_celsius_difference} within {window_hours} ({low_celsius} to {high_celsius}).',
      meaning: 'Every swing moves a pattern by its expansion and lets frozen-in strain go; it warps.',
      action: 'Find the cause (sun, window, heating) and check the fit of the patterns that lie there.',
    },
    'storage-rate': {
      message: '{place} changes by {rate_celsius_per_hour}: now {value_celsius}.',
      meaning: 'A fast change is uneven through a pattern and bends it.',
      action: 'Look for an open window or door, sun or a heater; move the patterns to a steady place.',
    },
    'storage-warm': {
      message: '{place} is too warm for the wax that lies there: {value_celsius}, at most {limit_celsius}.',
      meaning:
        'Near its softening range a pattern relaxes within hours instead of weeks, and its margins move.',
      action: 'Move the patterns to a cooler, steady place, or invest them now.',
    },
    'door-open': {
      message: '{place} looks open: {value_celsius} instead of {usual_celsius}.',
      meaning: 'The patterns go towards the temperature of the room, with the strain of every swing.',
      action: 'Close the door.',
    },
    'night-swing': {
      message: '{place} swung by {swing_celsius_difference} overnight ({low_celsius} to {high_celsius}).',
      meaning: 'Patterns that lay there moved; the longest ones most.',
      action: 'Check the fit of what lay there before it is invested.',
    },
    'pattern-due': {
      message:
        '{place} ({station}): predicted error {predicted_micrometres}, tolerance {tolerance_micrometres}, reached {due_at}.',
      meaning: 'The strain frozen in when it was made is letting go; the longer it waits, the worse it fits.',
      action: 'Invest it first, or check its fit on the die and reseal the margins.',
    },
    'pattern-warm': {
      message: '{place}: {patterns_count} pattern(s) lie too warm, {value_celsius}, at most {limit_celsius}.',
      meaning: 'Near its softening range a pattern relaxes within hours instead of weeks.',
      action: 'Move them to a cooler, steady place, or invest them now.',
    },
    'pattern-weekend': {
      message:
        '{place}: {patterns_count} pattern(s) will not keep their tolerance until the lab opens {opens_at}.',
      meaning: 'Strain goes on letting go while nobody is there.',
      action: 'Invest them before closing, or move them to the coolest steady place.',
    },
    'probe-silent': {
      message: 'No data from probe {place} ({station}) since {newest_at}.',
      meaning: 'Nobody can see how hot this station is. The last value, {value_celsius}, is old.',
      action: 'Look at the station itself. Check the probe, its cable and its battery.',
    },
    'gateway-lost': {
      message: {
        by: 'how',
        cases: {
          'said-offline':
            'Gateway {place} is offline since {since_at}: {probes_count} probe(s) without data.',
          'all-silent': 'All {probes_count} probes of gateway {place} are silent since {since_at}.',
          'all-gateways': 'All gateways are lost since {since_at}: {probes_count} probes without data.',
        },
      },
      meaning: 'Nobody can see how hot the stations behind it are. Has the power failed?',
      action: 'Look at the heaters themselves first. Then check the power and the network of the gateway.',
    },
    'probe-stuck': {
      message: 'Probe {place} ({station}) has said {value_celsius} without any change since {since_at}.',
      meaning: 'A real temperature always moves a little; this value may not be one.',
      action: 'Warm the probe with your hand and see whether it follows; replace it if not.',
    },
    'probe-noisy': {
      message: 'Probe {place} ({station}) is noisy: {noise_celsius_difference} between readings.',
      meaning: 'Limits cannot be judged well from it.',
      action: 'Check plug, cable and shielding; keep it away from mains leads.',
    },
    'probe-jump': {
      message: 'Probe {place} ({station}) jumped from {from_celsius} to {value_celsius}.',
      meaning: 'Wax cannot change that fast: the probe was moved, or its contact is loose.',
      action: 'Check that the probe sits where it belongs.',
    },
    'probe-disagrees': {
      message: 'Probes {place} and {twin} ({station}) differ by {spread_celsius_difference}.',
      meaning: 'At least one of them is wrong, and it is not known which.',
      action: 'Check both in ice water or against a reference; correct or replace the wrong one.',
    },
    'calibration-due': {
      message: 'The calibration of probe {place} ({station}) is due: {due_at}.',
      meaning: 'Its uncertainty is no longer vouched for.',
      action: 'Check it in ice water or against a reference and record the correction.',
    },
    'gateway-clock': {
      message: 'The clock of gateway {place} is wrong by {lag_minutes}.',
      meaning: 'Its readings are filed under the wrong time; doses and nights come out wrong.',
      action: 'Set its clock, or let it send readings without a time.',
    },
    'store-failing': {
      message: 'The store does not take readings: {detail}',
      meaning: 'Readings wait in the journal; nothing is lost, but charts do not grow.',
      action: 'Check that the store runs and can be reached.',
    },
    'disk-failing': {
      message: 'The disk gives cause for concern: {detail}',
      meaning: 'When it is full or fails, no reading can be kept and none is acknowledged.',
      action: 'Make room or replace the disk, and check the last copy.',
    },
    'nobody-subscribed': {
      message: 'Nobody is told of alarms: {detail}',
      meaning: 'Outside the lab nobody would hear of an overheating.',
      action:
        'Tell whoever is on duty yourself. Then open this page on their phone, let it ring and send a test.',
    },
    'channel-failing': {
      message: 'Alarms do not get out by {name}: {detail}',
      meaning: 'Whoever relies on it hears nothing.',
      action: 'Check the settings of this channel and send a test.',
    },
  },
  cautions: {
    fire: 'Never put water on burning or very hot wax: it bursts and scatters. Smother it with a lid, or use carbon dioxide or dry powder. If in doubt, get everybody out and call the fire service. This watch is no safety cut-out: every heater needs its own. The maker’s instructions and the local fire and electrical code come first.',
    'hot-wax':
      'Hot wax burns, sticks and goes on burning: cool skin with water, do not peel it off. Never put water on very hot or burning wax. Switch off at the heater’s own switch, and only if that is safe; air the room. This watch is no safety cut-out: every heater needs its own. The maker’s instructions and the local code come first.',
    unwatched:
      'What is not measured is not watched: look at the heaters yourself until data are back. This watch is no safety cut-out.',
    none: '',
  },
  hidden: {
    'warm-up': 'warming up as known',
    'planned-off': 'planned off',
    cooling: 'cooling down',
    behind: 'behind “{cause}”',
  },
  names: {
    'over-ceiling': 'Over ceiling',
    'fire-risk': 'Fire risk',
    'heading-over': 'Heading over ceiling',
    runaway: 'Thermostat lets it rise',
    'outside-window': 'Outside working window',
    'left-on': 'Left on',
    'no-heat': 'No heat',
    'low-pot': 'Low or dry pot',
    'thermostat-drift': 'Thermostat drifts',
    'uneven-annealer': 'Uneven annealer',
    'soak-incomplete': 'Soak not complete',
    'soak-ready': 'Soak ready',
    'wrong-bath': 'Bath set for another wax',
    'heat-dose-half': 'Half the heat dose',
    'heat-dose-high': 'High heat dose',
    'charge-spent': 'Charge spent',
    'cleaning-due': 'Cleaning due',
    'storage-swing': 'Storage swing',
    'storage-rate': 'Storage changes fast',
    'storage-warm': 'Storage too warm',
    'door-open': 'Cabinet open',
    'night-swing': 'Night swing',
    'pattern-due': 'Pattern due',
    'pattern-warm': 'Patterns too warm',
    'pattern-weekend': 'Patterns over the weekend',
    'probe-silent': 'No data',
    'gateway-lost': 'Gateway lost',
    'probe-stuck': 'Probe stuck',
    'probe-noisy': 'Probe noisy',
    'probe-jump': 'Probe jumped',
    'probe-disagrees': 'Probes disagree',
    'calibration-due': 'Calibration due',
    'gateway-clock': 'Gateway clock wrong',
    'store-failing': 'Store failing',
    'disk-failing': 'Disk failing',
    'nobody-subscribed': 'Nobody is told',
    'channel-failing': 'Channel failing',
  },
  units: { minutes: 'min', hours: 'h', perHour: 'per hour' },
  learned: 'Learned late, happened {raised_at}: ',
};
