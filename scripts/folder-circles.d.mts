export interface FileImport {
  readonly from: string;
  readonly to: string;
}
export function productImports(tree?: string): readonly FileImport[];
export function folderCircles(imports: readonly FileImport[]): readonly (readonly string[])[];
