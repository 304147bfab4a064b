// The label of a pattern or a place: its code opens its page with the phone's own camera. Only print shows it.

import { renderSVG } from 'uqr';

interface LabelProps {
  readonly path: string;
  readonly title: string;
  readonly lines: readonly string[];
}

export const Label = ({ path, title, lines }: LabelProps) => (
  <aside class="label" aria-hidden="true">
    {/* The encoder's own output of an address of ours; nothing that a person typed is in it. */}
    <span
      class="label-code"
      dangerouslySetInnerHTML={{ __html: renderSVG(location.origin + path, { ecc: 'M', border: 2 }) }}
    />
    <span class="label-words">
      <strong>{title}</strong>
      {lines.map((line) => (
        <span key={line}>{line}</span>
      ))}
    </span>
  </aside>
);
