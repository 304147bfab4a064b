// A table that a phone can read: on a narrow screen each row becomes a block whose cells carry their heading.

import type { ComponentChildren } from 'preact';

type CellOf<Row> = (row: Row) => ComponentChildren;
/** What is in a cell; figures are under one another by their last digit. */
export type DataColumn<Row> = CellOf<Row> | { readonly figures: CellOf<Row> };

interface DataTableProps<Row> {
  readonly rows: readonly Row[];
  readonly keyOf: (row: Row) => string;
  /** By the heading, each another and none a bare number; the first names the row. */
  readonly columns: Readonly<Record<string, DataColumn<Row>>>;
  /** Said in its place when it has no rows. */
  readonly none?: string;
}

export const DataTable = <Row,>({ rows, keyOf, columns, none = '' }: DataTableProps<Row>) => {
  if (rows.length === 0 && none !== '') return <p>{none}</p>;
  const planned = Object.entries(columns).map(([heading, column]) =>
    typeof column === 'function'
      ? { heading, cellOf: column, kind: undefined }
      : { heading, cellOf: column.figures, kind: 'figure' },
  );
  return (
    <table class="data">
      <thead>
        <tr>
          {planned.map(({ heading, kind }) => (
            <th key={heading} scope="col" class={kind}>
              {heading}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={keyOf(row)}>
            {planned.map(({ heading, cellOf, kind }, index) =>
              index === 0 ? (
                <th key={heading} scope="row">
                  {cellOf(row)}
                </th>
              ) : (
                <td key={heading} data-heading={heading} class={kind}>
                  {cellOf(row)}
                </td>
              ),
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
};
