// Sources: version, times on this device, what is kept on it, and every other question.

import { make } from './show.js';
import { all, forget } from './kept.js';

/** Length of a batch that is timed, ms. */
const BATCH = 10;

/** Questions whose time is shown: those that sliders ask, and two larger ones. @type {[string, string[]][]} */
const TIMED = [
  ['saturation', ['saturation', 'R-407C', '--temperature=25C']],
  ['glide', ['glide', 'R-32/R-1234yf (50/50)', '--pressure=10bara', '--model=ideal', '--format=html']],
  ['lens of 41 compositions', ['chart', 'R-32/R-1234yf (50/50)', '--picture=lens', '--pressures=10bara', '--format=svg']],
  ['triangle of 231 compositions', ['chart', 'R-407C', '--picture=triangle', '--pressures=10bara', '--format=svg']],
  ['leak', ['leak', 'R-407C', '--temperature=25C', '--filled=80%', '--lost=30%', '--format=html']],
  ['cycle', ['cycle', 'R-407C', '--evaporating=0C', '--condensing=40C', '--picture=ph', '--format=svg']],
];

/** Milliseconds a run, over a batch. @param {() => void} run */
function timed(run) {
  run();
  const begun = performance.now();
  let runs = 0;
  while (performance.now() - begun < BATCH || runs === 0) {
    run();
    runs += 1;
  }
  return (performance.now() - begun) / runs;
}

/** @param {import('./main.js').Context} context @returns {import('./rooms.js').Tools} */
export function sources({ engine, commands, version }) {
  const times = make('tbody');
  const measure = () => {
    const rows = TIMED.map(([name, args]) => make('tr', {}, make('th', { scope: 'row', class: 'word' }, name), make('td', {}, timed(() => engine.ask(args)).toFixed(2))));
    times.replaceChildren(...rows);
  };
  const held = make('p', {}, '');
  const tell = () => {
    const names = Object.entries(all()).map(([name, text]) => `${name} ${text}`);
    held.textContent = names.length ? `Kept on this device alone: ${names.join(', ')}.` : 'Nothing is kept on this device.';
  };
  tell();
  const others = [...commands.values()].map(({ name, about }) => make('li', {}, make('a', { href: `#${name}` }, name), ` ${about ?? ''}`));
  const started = document.documentElement.dataset.ready;
  return {
    element: make('section', { 'aria-label': 'This page' },
      make('details', {}, make('summary', {}, 'This page'),
        make('p', {}, `zeotrope ${version}, page built ${document.documentElement.dataset.built}. The engine started in ${started} ms. A saved page grows old: facts and equations are those of its day.`),
        make('p', {}, 'Everything is computed in this page; nothing leaves the device, and nothing is fetched.'),
        held, make('button', { type: 'button', click: () => { forget(); tell(); } }, 'Forget site, units and kit'),
        make('table', {}, make('caption', {}, `Time of an answer on this device, mean of ${BATCH} ms`),
          make('thead', {}, make('tr', {}, make('th', { scope: 'col', class: 'word' }, 'question'), make('th', { scope: 'col' }, 'ms'))), times),
        make('button', { type: 'button', click: measure }, 'Measure')),
      make('details', {}, make('summary', {}, 'Every question'), make('ul', { class: 'questions' }, ...others))),
    update() {
      tell();
    },
  };
}
