// A table that a phone can read: on a narrow screen each row becomes a block whose cells carry their heading.

import type { ComponentChildren } from 'preact';

interface DataRow {
  readonly key: string;
  /** The first names the row. */
  readonly cells: readonly ComponentChildren[];
}

interface DataTableProps {
  readonly columns: readonly string[];
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
            <th key={column} scope="col">
              {column}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ key, cells: [name, ...cells] }) => (
          <tr key={key}>
            <th scope="row">{name}</th>
            {cells.map((cell, index) => (
              <td key={columns[index + 1]} data-heading={columns[index + 1]}>
                {cell}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
};
