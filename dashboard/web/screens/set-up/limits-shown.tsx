// The window and the ceiling that would hold, each with its place and its source, and the caution that
// belongs to every heater.

import type { LimitsView } from '../../../api/lab-bodies.ts';
import { formatTemperature } from '../../base/format.ts';
import { type MessageKey, t, word } from '../../base/messages.ts';
import { sourceText } from '../../live/source-text.ts';
import { reader } from '../../live/lab-state.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { BurnNote } from '../common/station/burn-note.tsx';
import { KindCaution } from '../common/station/kind-caution.tsx';
import type { StationKind } from '../../../../lab/station-kinds.ts';

const ROWS: readonly (readonly [keyof LimitsView, MessageKey])[] = [
  ['windowLow', 'station.window-low'],
  ['windowHigh', 'station.window-high'],
  ['ceiling', 'station.ceiling'],
];

export const LimitsShown = (props: { readonly kind: StationKind; readonly wax: string }) => {
  const { kind, wax } = props;
  const loaded = useLoaded<LimitsView>(wax === '' ? null : `/api/wax-classes/${wax}/limits?kind=${kind}`);
  const limits = loaded.trouble === null ? loaded.value : null;
  return (
    <>
      {limits === null && <p class="dim">{t('stations.limits-unknown')}</p>}
      {limits !== null && (
        <dl class="figures-shown" aria-label={t('stations.limits')}>
          {ROWS.map(([name, label]) => {
            const figure = limits[name];
            if (figure === null) return null;
            return (
              <div key={name}>
                <dt>{t(label)}</dt>
                <dd>
                  <strong>{formatTemperature(figure.value, reader.value)}</strong>
                </dd>
                <dd class="dim">
                  {word('standing', figure.standing)} · {sourceText(figure.source, true)}
                </dd>
              </div>
            );
          })}
        </dl>
      )}
      <KindCaution kind={kind}>
        {limits?.ceiling && <BurnNote celsius={limits.ceiling.value} kind={kind} />}
      </KindCaution>
    </>
  );
};
