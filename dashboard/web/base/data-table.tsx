// A table that a phone can read: on a narrow screen each row becomes a block whose cells carry their heading.

import type { ComponentChildren } from 'preact';

interface DataRow {
  readonly key: string;
  /** The first names the row. */
  readonly cells: readonly ComponentChildren[];
}

/** The heading of a column; figures stand under one another by their last digit. */
type Column = string | { readonly figures: string };
const headingOf = (column: Column | undefined): string | undefined =>
  typeof column === 'object' ? column.figures : column;
const classOf = (column: Column | undefined) => (typeof column === 'object' ? 'figure' : undefined);

interface DataTableProps {
  readonly columns: readonly Column[];
  readonly rows: readonly DataRow[];
  /** Said in its place when it has no rows. */
  readonly none?: string;
}

export const DataTable = ({ columns, rows, none = '' }: DataTableProps) => {
  if (rows.length === 0 && none !== '') return <p>{none}</p>;
  return (
    <table class="data">
      <thead>
        <tr>
          {columns.map((column) => (
            <th key={headingOf(column)} scope="col" class={classOf(column)}>
              {headingOf(column)}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ key, cells: [name, ...cells] }) => (
          <tr key={key}>
            <th scope="row">{name}</th>
            {cells.map((cell, index) => (
              <td
                key={headingOf(columns[index + 1])}
                data-heading={headingOf(columns[index + 1])}
                class={classOf(columns[index + 1])}
              >
                {cell}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
};
