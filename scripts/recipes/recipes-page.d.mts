export function recipesPage(): string;
