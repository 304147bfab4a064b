export interface FileImport {
  readonly from: string;
  readonly to: string;
}
export function folderCircles(imports: readonly FileImport[]): readonly (readonly string[])[];
