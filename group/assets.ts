// The style and the script of the group's pages.

/** Grey is the base; a tone means that hands are needed, as on the screens of a lab. */
export const STYLE = `
:root { color-scheme: dark light; --ground: #16171a; --card: #1e2023; --lane: #34373c; --edge: #9a9da2; --ink: #f0ede7; --dim: #bab8b3;
  --urgent: #ff7a59; --high: #ffab38; --medium: #f0da55; --low: #86c2f7 }
@media (prefers-color-scheme: light) { :root { --ground: #eeece8; --card: #fbfaf8; --lane: #dcdad4; --edge: #6b6c6e; --ink: #1b1c1e; --dim: #4e4f53;
  --urgent: #a82408; --high: #7d4400; --medium: #5f5000; --low: #0d5490 } }
* { box-sizing: border-box }
body { margin: 0; padding: 1rem clamp(1rem, 4vw, 3rem); background: var(--ground); color: var(--ink); font: 500 1.05rem/1.45 "Barlow Semi Condensed", "Arial Narrow", system-ui, sans-serif }
a { color: inherit } h1 { font-size: 1.9rem; line-height: 1.15 } h2 { font-size: 1.3rem; margin-block: 1.5rem 0.5rem } h3 { margin: 0; font-size: 1.15rem }
nav { display: flex; flex-wrap: wrap; gap: 0.5rem 1.5rem; align-items: center } nav a { padding-block: 0.75rem } nav form { margin-inline-start: auto }
button, input, .button { font: inherit; min-height: 3rem; padding: 0 1rem; border: 2px solid var(--edge); border-radius: 0.4rem; background: var(--card); color: inherit; max-width: 100% }
.button { display: inline-flex; align-items: center; text-decoration: none }
label { display: block; margin-block: 1rem 0.25rem } .tick { display: flex; gap: 0.75rem; align-items: center; min-height: 3rem; margin: 0 } .tick input { min-height: 1.5rem; width: 1.5rem }
select, textarea { font: inherit; min-height: 3rem; padding: 0.5rem 1rem; border: 2px solid var(--edge); border-radius: 0.4rem; background: var(--card); color: inherit; max-width: 100% } textarea { display: block; width: 40rem }
fieldset { border: 2px solid var(--lane); margin-block: 1rem }
:focus-visible { outline: 3px solid var(--ink); outline-offset: 2px }
.labs { list-style: none; padding: 0; display: grid; gap: 0.75rem; grid-template-columns: repeat(auto-fill, minmax(min(24rem, 100%), 1fr)) }
.lab { padding: 1rem; background: var(--card); border-inline-start: 0.4rem solid var(--lane); overflow-wrap: anywhere }
.lab p { margin: 0.5rem 0 0 } .lab ul { padding-inline-start: 1.2rem; margin: 0.5rem 0 0 }
[data-need="hands"] .lab { border-color: var(--ink) }
[data-priority="urgent"] { color: var(--urgent) } [data-priority="high"] { color: var(--high) }
[data-priority="medium"] { color: var(--medium) } [data-priority="low"] { color: var(--low) }
.silent { font-weight: 600 } .silent::before { content: "? "; } .dim { color: var(--dim) }
.wide { overflow-x: auto } table { border-collapse: collapse; min-width: 100% } th, td { padding: 0.6rem 0.8rem; text-align: start; border-block-end: 1px solid var(--lane) }
.value { font-size: 2rem; font-weight: 600; line-height: 1.1; font-variant-numeric: tabular-nums }
td { font-variant-numeric: tabular-nums } thead th { vertical-align: bottom }
@media screen and (max-width: 40rem) {
  thead { position: absolute; clip-path: inset(50%); width: 1px; height: 1px; overflow: hidden; white-space: nowrap }
  table, tbody, tr, th, td { display: block } tr { padding-block: 0.5rem; border-block-end: 1px solid var(--lane) }
  th, td { border: 0; padding: 0.25rem 0 } td { display: flex; justify-content: space-between; gap: 1rem; text-align: end }
  td::before { content: attr(data-head); color: var(--dim); text-align: start; white-space: normal }
  .figures td { white-space: nowrap }
}
@media print { nav, button, form { display: none } }
`;

/** Fetches the part that changes as soon as a lab reports, and once a minute, since silence reports nothing. */
export const SCRIPT = `
const part = document.getElementById('labs');
const lost = document.getElementById('lost');
if (part) {
  let busy = false, again = false;
  const load = async () => {
    if (busy) { again = true; return; }
    busy = true;
    try {
      const answer = await fetch('/labs', { headers: { accept: 'text/html' } });
      if (answer.status === 401) location.assign('/sign-in');
      else if (answer.ok) {
        part.innerHTML = await answer.text();
        lost.hidden = true;
      } else lost.hidden = false;
    } catch {
      lost.hidden = false;
    }
    busy = false;
    if (again) { again = false; load(); }
  };
  const live = new EventSource('/live');
  live.onmessage = load;
  live.onerror = load;
  setInterval(load, 60000);
}
`;
