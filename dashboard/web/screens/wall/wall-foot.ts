// What the foot of the wall shows: the state of the lab, or that nothing is known; the alarms that have no tile by name;
// the next pattern; the caution beside heat. Each line takes the longest of its wordings that fits.

import type { AlarmView } from '../../../api/schemas.ts';
import { formatTime } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { health, lastReceivedAt, now, reader, standing } from '../../live/lab-state.ts';
import { standingSentences } from '../../live/standing-text.ts';
import { nextPattern } from '../common/bench/next-pattern.ts';
import { nameOfPattern } from '../common/bench/patterns-due.ts';
import { distinctNames, type EmsOf, linesOf, joinHyphens } from '../common/wall/text-fit.ts';
import { ADVICE_ARC, LEAST_ARC } from '../common/wall/wall-tile.ts';
import { instantText } from '../../live/instant-text.ts';

export interface WallFoot {
  /** At the size of what to do. */
  readonly first: string;
  /** At the least size. */
  readonly second: string;
  readonly isDemonstration: boolean;
  /** The controls are below the words. */
  readonly isStacked: boolean;
  /** Minutes of arc. */
  readonly height: number;
}

const SEPARATOR = ' · ';
/** A sentence ends by itself. */
const joinParts = ([first = '', ...rest]: readonly string[]): string =>
  rest.reduce((line, part) => line + (line.endsWith('.') ? ' ' : SEPARATOR) + part, first);
const LINE = 1.15;
const PAD_ARC = 3;
/** Sound and clock, minutes of arc. */
const CONTROLS_WIDTH = 132;
const CONTROLS_HEIGHT = 26;
const STACKED_GAP = 2;
const STACKED_BELOW = 400;

interface Shown {
  /** Names of the alarms beyond those at full size, worst first. */
  readonly further: readonly string[];
  /** Of everything on the wall: a shortened name is none of theirs either. */
  readonly names: readonly string[];
  readonly unplaced: number;
  readonly page: number;
  readonly pages: number;
  readonly alarms: readonly AlarmView[];
  /** Lines that there is room for below the first. */
  readonly secondLines: number;
}

/** A name in the foot is as wide as this at most, in sizes of its type. */
const NAME_EMS = 6;

/** The names, or as many of them as fit, with the count of all. */
const furtherText = ({ further, names }: Shown, width_ems: number, emsOf: EmsOf): string => {
  const short = distinctNames([...further, ...names], (name) => emsOf(name) <= NAME_EMS).slice(
    0,
    further.length,
  );
  const texts = short.map((_, index) => {
    const rest = index > 0 ? ', …' : '';
    return t('wall.further', {
      count: further.length,
      names: short.slice(0, short.length - index).join(', ') + rest,
    });
  });
  return texts.find((text) => emsOf(text) <= width_ems) ?? texts.at(-1) ?? '';
};

const firstLine = (shown: Shown, width_ems: number, emsOf: EmsOf): string => {
  if (standing.value.kind === 'lost') {
    const at = lastReceivedAt.value;
    const since =
      at === null ? t('line.never') : t('line.old-values', { at: formatTime(at, reader.value, true) });
    return `${t('line.lost')} ${since}`;
  }
  return shown.further.length > 0
    ? furtherText(shown, width_ems, emsOf)
    : standingSentences(standing.value).join(SEPARATOR);
};

const patternTexts = (): readonly string[] => {
  const pattern = nextPattern.value;
  if (!pattern) return [];
  const at = instantText(pattern.investBy);
  const name = joinHyphens(nameOfPattern(pattern));
  const isOver = Date.parse(pattern.investBy) <= now.value;
  const short = t(isOver ? 'wall.overdue-pattern-short' : 'wall.next-pattern-short', { pattern: name, at });
  const { verdict } = pattern;
  return verdict === null ? [short, short] : [`${name}. ${verdict.text} ${verdict.due}`.trim(), short];
};

/** Each part from its longest wording to its shortest; the first combination that fits the lines, else the shortest. */
const secondLine = (shown: Shown, width_ems: number, emsOf: EmsOf): string => {
  const hasHeat = shown.alarms.some(({ caution }) => caution !== '');
  const first = standing.value.kind === 'lost' ? [t('line.what-to-do')] : [];
  const always = [
    ...(shown.unplaced > 0 ? [t('wall.unplaced', { count: shown.unplaced })] : []),
    ...(shown.pages > 1 ? [t('wall.page', { page: shown.page, pages: shown.pages })] : []),
  ];
  const parts = [patternTexts(), hasHeat ? [t('wall.caution'), t('wall.caution-short')] : []];
  const wordings = [
    [0, 0],
    [0, 1],
    [1, 1],
  ].map((choice) =>
    joinParts([...first, ...parts.flatMap((texts, index) => texts[choice[index] ?? 0] ?? []), ...always]),
  );
  return (
    wordings.find((text) => linesOf(text, width_ems, emsOf) <= shown.secondLines) ?? wordings.at(-1) ?? ''
  );
};

/** `width`: of the screen in minutes of arc. */
export const wallFoot = (shown: Shown, width: number, emsOf: EmsOf): WallFoot => {
  const isStacked = width < STACKED_BELOW;
  const isDemonstration = health.value?.demo ?? false;
  const words = width - (isStacked ? 0 : CONTROLS_WIDTH) - 4 * PAD_ARC;
  const badge = isDemonstration ? emsOf(t('wall.demonstration')) * LEAST_ARC + 3 * PAD_ARC : 0;
  const first = firstLine(shown, (words - ADVICE_ARC * 1.6) / ADVICE_ARC, emsOf);
  const second = secondLine(shown, (words - badge) / LEAST_ARC, emsOf);
  const lines = (text: string, room: number, arc: number) => {
    const count = linesOf(text, room / arc, emsOf);
    return (Number.isFinite(count) ? count : 2) * arc * LINE;
  };
  const wordsHeight =
    lines(first, words - ADVICE_ARC * 1.6, ADVICE_ARC) +
    Math.max(isDemonstration ? LEAST_ARC * LINE : 0, lines(second, words - badge, LEAST_ARC));
  const height = isStacked
    ? wordsHeight + STACKED_GAP + CONTROLS_HEIGHT
    : Math.max(wordsHeight, CONTROLS_HEIGHT);
  return { first, second, isDemonstration, isStacked, height: height + PAD_ARC };
};
