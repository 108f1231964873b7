// Exercises: readings at random, the same for the same number; answers judged by their uncertainty.

import { changed, list, value } from './address.js';
import { body, make } from './show.js';

/** @typedef {import('./main.js').Context} Context */
/** @typedef {import('./address.js').Question} Question */

const SYSTEMS = {
  ip: { temperature: 'F', difference: 'F', pressure: 'psig', digits: 0, kit: ['--gauge-accuracy=1psi', '--clamp-accuracy=1F'], kelvin: 1.8 },
  si: { temperature: 'C', difference: 'K', pressure: 'barg', digits: 1, kit: ['--gauge-accuracy=0.1bar', '--clamp-accuracy=0.5K'], kelvin: 1 },
};

/** Numbers from 0 to 1, the same for the same seed (xorshift of Marsaglia, J. Stat. Softw. 8 (2003) 14). @param {number} seed */
function random(seed) {
  let state = Math.imul(seed, 2654435761) >>> 0 || 1;
  const next = () => {
    state ^= state << 13;
    state >>>= 0;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return state / 4294967296;
  };
  // The first numbers of neighboring seeds resemble each other.
  for (let skipped = 0; skipped < 20; skipped += 1) next();
  return next;
}

/**
 * One reading, its quantities as a gauge and a thermometer show them.
 * @param {Context} context @param {string} refrigerant @param {keyof SYSTEMS} system @param {() => number} next
 */
function reading({ engine }, refrigerant, system, next) {
  const { temperature, pressure, digits, kit, kelvin } = SYSTEMS[system];
  const verb = next() < 0.5 ? 'superheat' : 'subcooling';
  const saturated = verb === 'superheat' ? -20 + 30 * next() : 30 + 18 * next();
  const wanted = 2 + 10 * next();
  const at = engine.json(['saturation', refrigerant, `--temperature=${saturated.toFixed(2)}C`]);
  const branch = verb === 'superheat' ? at?.dew : at?.bubble;
  if (!branch) return null;
  const shown = engine.json(['convert', `${branch.pressure_Pa}Pa`, '--to', pressure]).conversion.result.toFixed(digits);
  const line = engine.json(['convert', `${(saturated + (verb === 'superheat' ? wanted : -wanted)).toFixed(2)}C`, '--to', temperature]).conversion.result.toFixed(digits ? 1 : 0);
  const args = [verb, refrigerant, `--pressure=${shown}${pressure}`, `--line=${line}${temperature}`, ...kit];
  const found = engine.json(args);
  if (!found || found.expanded_uncertainty_K === null) return null;
  return {
    args, verb, refrigerant,
    text: `${refrigerant}: ${verb === 'superheat' ? 'suction' : 'liquid'} pressure ${shown} ${pressure}, line ${line} °${temperature}`,
    is: found[`${verb}_K`] * kelvin,
    within: found.expanded_uncertainty_K * kelvin,
  };
}

/**
 * @param {Context} context
 * @param {Question} question
 * @returns {Node}
 */
export function exercises(context, question) {
  const names = list(value(question, 'refrigerant') ?? 'R-134a,R-407C,R-410A,R-454B');
  const system = value(question, 'units') === 'ip' ? 'ip' : 'si';
  const count = Math.min(Math.max(Number.parseInt(value(question, 'count') ?? '6', 10) || 6, 1), 40);
  const seed = Number.parseInt(value(question, 'seed') ?? '1', 10) || 1;
  const { difference, kit } = SYSTEMS[system];
  const next = random(seed);
  const all = [];
  for (let tries = 0; all.length < count && tries < 5 * count; tries += 1) {
    const one = reading(context, names[Math.floor(next() * names.length)], system, next);
    if (one) all.push(one);
  }
  const field = (/** @type {string} */ name, /** @type {string} */ told, /** @type {string} */ text, /** @type {string | undefined} */ options) =>
    make('div', { class: 'field' }, make('label', { for: `field-${name}` }, told),
      make('input', { id: `field-${name}`, name, type: 'text', value: text, list: options, autocomplete: 'off' }));
  const form = /** @type {HTMLFormElement} */ (make('form', { 'aria-label': 'exercises', novalidate: true },
    make('div', { class: 'fields' }, field('refrigerant', 'Refrigerants', names.join(', '), 'refrigerants'), field('count', 'How many', String(count), undefined),
      field('units', 'Units: si or ip', system, undefined), field('seed', 'Number of the sheet', String(seed), undefined)),
    make('button', { type: 'submit' }, 'New sheet')));
  const told = () => {
    const typed = (/** @type {string} */ name) => /** @type {HTMLInputElement} */ (form.elements.namedItem(name)).value.trim();
    const isSame = ['seed', 'count', 'units'].every((name) => typed(name) === { seed: String(seed), count: String(count), units: system }[name]);
    context.ask(['refrigerant', 'count', 'units', 'seed'].reduce((asked, name) =>
      changed(asked, name, name === 'seed' && isSame ? String(1 + Math.floor(Math.random() * 99999)) : list(typed(name)).join(',')), question));
  };
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    told();
  });
  if (all.length === 0) {
    const reply = context.engine.ask(['saturation', names[0] ?? '', '--temperature=20C']);
    context.fail(reply.words || 'error: no reading could be made for these refrigerants\nhint: name others, such as R-407C');
  }
  const rows = all.map((one, place) => {
    const verdict = make('output', { class: 'verdict' }, '');
    const input = /** @type {HTMLInputElement} */ (make('input', { type: 'text', inputmode: 'decimal', 'aria-label': `${one.verb}, ${difference}`, size: '6', autocomplete: 'off' }));
    input.addEventListener('change', () => {
      const typed = Number.parseFloat(input.value.replace(',', '.').replace('\u2212', '-'));
      const off = Math.abs(typed - one.is);
      verdict.textContent = Number.isNaN(typed) ? 'Write a number.'
        : off <= one.within ? `Right: within ±${one.within.toFixed(1)} ${difference}, the uncertainty of the reading.`
          : `Off by ${off.toFixed(1)} ${difference}; the uncertainty of the reading is ±${one.within.toFixed(1)} ${difference}.`;
    });
    return make('li', { id: `exercise-${place + 1}` }, `${one.text}. ${one.verb[0].toUpperCase()}${one.verb.slice(1)}? `, input, ` ${difference} `, verdict);
  });
  const solved = all.map(({ args, text }) =>
    make('li', {}, make('p', {}, text), body(context.engine.ask([...args, '--brief', '--format=html']).text)));
  const key = make('details', { class: 'key' }, make('summary', {}, 'Key'), make('ol', {}, ...solved));
  addEventListener('beforeprint', () => key.setAttribute('open', ''));
  const sheet = [make('h2', {}, `Sheet ${seed}`), make('p', {}, `Sea level; limits of error: gauge ${kit[0].split('=')[1]}, thermometer ${kit[1].split('=')[1]}. Read bubble or dew as the question needs.`),
    make('ol', { class: 'sheet' }, ...rows), make('button', { type: 'button', click: () => print() }, 'Print sheet and key'), key];
  return make('section', { 'aria-label': 'Exercises' }, form, ...(all.length ? sheet : []));
}
