// Facts by name, one below the other; one without a value is left out.

import type { ComponentChildren } from 'preact';

export type Fact = readonly [name: string, value: ComponentChildren];

export const FactList = ({ facts }: { readonly facts: readonly Fact[] }) => (
  <dl>
    {facts.map(([name, value]) =>
      value === null ? null : (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ),
    )}
  </dl>
);
