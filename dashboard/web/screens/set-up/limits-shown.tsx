// The window and the ceiling that would hold, each with where it stands and its source, and the caution that
// belongs to every heater.

import { useEffect, useState } from 'preact/hooks';
import type { LimitsView } from '../../../api/lab-bodies.ts';
import { read } from '../../base/api.ts';
import { formatTemperature } from '../../base/format.ts';
import { type MessageKey, t, word } from '../../base/messages.ts';
import { sourceText } from '../../live/source-text.ts';
import { reader } from '../../live/lab-state.ts';
import { Mark } from '../../base/marks.tsx';
import { BurnNote } from '../common/burn-note.tsx';
import { isHeater, type StationKind } from '../../../../lab/station.ts';

const ROWS: readonly (readonly [keyof LimitsView, MessageKey])[] = [
  ['windowLow', 'station.window-low'],
  ['windowHigh', 'station.window-high'],
  ['ceiling', 'station.ceiling'],
];

const HeaterCaution = (props: { readonly kind: StationKind; readonly ceiling: number | null }) => (
  <p class="caution">
    <Mark name="fire-risk" />
    <span>
      {t('caution.heater')} {props.ceiling !== null && <BurnNote celsius={props.ceiling} kind={props.kind} />}
    </span>
  </p>
);

export const LimitsShown = (props: { readonly kind: StationKind; readonly wax: string }) => {
  const [limits, setLimits] = useState<LimitsView | null>(null);
  const { kind, wax } = props;
  useEffect(() => {
    if (wax === '') return setLimits(null);
    let isWanted = true;
    void read<LimitsView>(`/api/wax-classes/${wax}/limits?kind=${kind}`).then((answer) => {
      if (isWanted) setLimits(answer.ok ? answer.value : null);
    });
    return () => {
      isWanted = false;
    };
  }, [kind, wax]);
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
      {isHeater(kind) && <HeaterCaution kind={kind} ceiling={limits?.ceiling?.value ?? null} />}
    </>
  );
};
