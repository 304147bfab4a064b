// What goes wrong where wax is softened: zones that differ, a load taken out too soon, a bath that drifts.

import { DAY, HOUR, MINUTE } from '../days/calendar.ts';
import { soakSpells } from '../days/softener-work.ts';
import { ramp } from '../days/spell.ts';
import { type InjectedFault, laterDays, pickFrom, spell, stationsOf, warmInstant } from './injection.ts';

export const annealerUneven: InjectedFault = {
  wishes: { days: [4, 6], pots: [0, 1], annealers: [1, 1] },
  inject: (world, draw) => {
    const annealer = pickFrom(draw, stationsOf(world, 'annealer'));
    const instant = annealer && warmInstant(world, annealer, draw, HOUR);
    if (!annealer || !instant) return null;
    const begins = instant.at;
    const ends = Math.min(world.ends, begins + draw.uniform(2, 30) * HOUR);
    annealer.spells.push({ from: begins, to: ends, set: { fanRuns: false } });
    return [spell(annealer.id, begins, ends, ['uneven'])];
  },
};

const USED_AFTER = 5 * MINUTE;

export const loadEarly: InjectedFault = {
  wishes: { days: [4, 6], pots: [0, 1], annealers: [1, 1] },
  inject: (world, draw) => {
    const annealer = pickFrom(draw, stationsOf(world, 'annealer'));
    if (annealer === null) return null;
    const days = laterDays(world);
    const soak = pickFrom(
      draw,
      annealer.soaks.filter(({ from }) => days.some(({ start, end }) => from >= start && from < end)),
    );
    if (soak === null) return null;
    const taken = soak.from + draw.uniform(0.3, 0.7) * annealer.soakMinutes * MINUTE;
    const isDoor = ({ from, set }: (typeof annealer.spells)[number]) => from === soak.to && set.open === true;
    annealer.spells.splice(0, annealer.spells.length, ...annealer.spells.filter((spell) => !isDoor(spell)));
    const doors = soakSpells({ from: soak.from, to: taken }, draw).slice(-1);
    annealer.spells.push(...doors);
    const used = taken + USED_AFTER;
    return [spell(annealer.id, taken, used + 5 * MINUTE, [], { harm: () => used })];
  },
};

export const bathDrift: InjectedFault = {
  wishes: { days: [4, 6], pots: [0, 1], baths: [1, 1] },
  inject: (world, draw) => {
    const bath = pickFrom(draw, stationsOf(world, 'bath'));
    const instant = bath && warmInstant(world, bath, draw, 2.5 * HOUR);
    if (!bath || !instant) return null;
    const begins = instant.at;
    const [low, high] = bath.window;
    const sign = draw.chance(0.65) ? 1 : -1;
    const kelvin = ((high - low) / 2 + draw.uniform(1.5, 4)) * sign;
    const hours = draw.uniform(1, Math.max(1.2, (instant.offAt - begins) / HOUR));
    const full = begins + hours * HOUR;
    const ends = Math.min(world.ends, full + draw.uniform(0.2, 1) * DAY);
    bath.spells.push(...ramp(begins, full, 3 * MINUTE, (way) => ({ shiftCelsius: kelvin * way })), {
      from: full,
      to: ends,
      set: { shiftCelsius: kelvin },
    });
    return [spell(bath.id, begins, ends, ['outside-window'])];
  },
};
