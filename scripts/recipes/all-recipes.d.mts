interface Step {
  readonly path: string;
  readonly does: string;
  readonly edit: (text: string) => string;
}
export interface Recipe {
  readonly name: string;
  readonly example: string;
  readonly most: number | null;
  readonly steps: readonly Step[];
  readonly generated: readonly { readonly path: string; readonly command: readonly string[] }[];
  readonly tests: readonly string[];
}
export const RECIPES: readonly Recipe[];
