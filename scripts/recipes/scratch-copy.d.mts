export function scratchCopy(): string;
export function contentOf(tree: string): ReadonlyMap<string, string>;
export function changedSince(before: ReadonlyMap<string, string>, tree: string): readonly string[];
