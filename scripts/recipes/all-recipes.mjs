// Every recipe for a contributor; docs/recipes.md is written from them and a test carries each of them out.

import { payloadFormat } from './payload-format.mjs';
import { rule } from './rule.mjs';
import { screen } from './screen.mjs';
import { stationKind } from './station-kind.mjs';
import { waxClass } from './wax-class.mjs';

/** @type {readonly import('./recipe.mjs').Recipe[]} */
export const RECIPES = [rule, stationKind, waxClass, payloadFormat, screen];
