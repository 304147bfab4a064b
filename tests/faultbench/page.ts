// The page of the bench: the figures as tables, then a plot of each miss. One file that needs nothing else.

import type { Figure } from './figures.ts';
import { escapeMarkup } from './miss-plot.ts';

const figureText = ({ value, unit }: Figure): string => {
  if (value === null) return 'none';
  return unit === 'share' ? `${(100 * value).toFixed(1)} %` : String(Math.round(value * 100) / 100);
};

const COLUMNS = [
  'found-share',
  'told-share',
  'lead-median',
  'lead-tenth-percentile',
  'delay-median',
  'right-cause-share',
  'late-share',
  'never-share',
] as const;

function table(figures: readonly Figure[]): string {
  const faults = [...new Set(figures.map(({ fault }) => fault))];
  const row = (fault: string | undefined): string => {
    const cells = COLUMNS.map((name) =>
      figures.find((figure) => figure.name === name && figure.fault === fault),
    );
    const n = cells[0]?.n ?? 0;
    return `<tr><th>${escapeMarkup(fault ?? 'all')}</th><td>${n}</td>${cells.map((cell) => `<td>${cell ? figureText(cell) : ''}</td>`).join('')}</tr>`;
  };
  return `<table><thead><tr><th>fault</th><th>with harm</th>${COLUMNS.map((name) => `<th>${name}</th>`).join('')}</tr></thead><tbody>${faults.map(row).join('')}</tbody></table>`;
}

const nuisances = (figures: readonly Figure[]): string =>
  `<table><tbody>${figures
    .filter(({ name }) => name.startsWith('nuisance') || name === 'chattering')
    .map(
      (figure) =>
        `<tr><th>${escapeMarkup(figure.rule ?? figure.name)}</th><td>${figureText(figure)} ${figure.unit}</td></tr>`,
    )
    .join('')}</tbody></table>`;

const STYLE = `body{font:15px/1.45 Georgia,serif;color:#2b2118;background:#fbf7ef;max-width:980px;margin:2rem auto;padding:0 1rem}
table{border-collapse:collapse;font-size:13px;margin:1rem 0}th,td{padding:3px 8px;border-bottom:1px solid #d9cbb3;text-align:right}th:first-child{text-align:left}
figure{margin:1.6rem 0}svg{width:100%;background:#fffdf8;border:1px solid #d9cbb3;font:11px Georgia,serif}
.span{fill:#f3d9b8}.grid{stroke:#ece2d0}.limit{stroke:#8d7f68;stroke-dasharray:5 4}.ceiling{stroke:#a3261b}.harm{stroke:#a3261b;stroke-width:1.5}.alarm{fill:#a3261b}.line{fill:none;stroke-width:1.3}`;

export const page = (figures: readonly Figure[], plots: readonly string[], cases: number): string =>
  `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Faults and alarms</title><style>${STYLE}</style>
<h1>What the watch saw of ${cases} cases</h1>${table(figures)}<h2>At stations in good order</h2>${nuisances(figures)}
<h2>Not seen before harm: ${plots.length}</h2>${plots.join('\n')}</html>\n`;
