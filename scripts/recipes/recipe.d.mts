import type { Recipe } from './all-recipes.mjs';

export function carryOut(tree: string, recipe: Recipe): void;
