// Glide: sliders for a blend's composition and its pressure; lens, triangle and coil.

import { changed, value } from './address.js';
import { make, picture, today } from './show.js';

/** @typedef {import('./address.js').Question} Question */
/** @typedef {import('./main.js').Context} Context */

/** Options that say how any question about the blend is read and shown. */
const SHARED = ['units', 'temperature-unit', 'pressure-unit', 'elevation', 'station-pressure', 'pairs'];
const MOST = 4;
/** Absolute pressures at the ends of the slider, bara. */
const ENDS = [1, 40];

/** @param {Question} question @returns {string[]} */
export function shared({ values }) {
  return values.filter(([key]) => SHARED.includes(key)).map(([key, text]) => `--${key}=${text}`);
}

/**
 * A slider with its name and what it stands at; it asks while it moves, once a frame.
 * @param {string} name @param {{min: number, max: number, step: number}} ends
 * @param {(at: number, isFirst: boolean) => void} moved told whether the movement begins
 */
export function slider(name, ends, moved) {
  const told = make('output', {}, '');
  const input = /** @type {HTMLInputElement} */ (make('input', { type: 'range', ...ends, 'aria-label': name }));
  let [isAtRest, waiting] = [true, false];
  input.addEventListener('input', () => {
    if (waiting) return;
    waiting = true;
    const isFirst = isAtRest;
    isAtRest = false;
    requestAnimationFrame(() => {
      waiting = false;
      moved(Number(input.value), isFirst);
    });
  });
  input.addEventListener('change', () => { isAtRest = true; });
  const set = (/** @type {number} */ at, /** @type {string} */ text) => {
    if (isAtRest) input.value = String(at);
    told.textContent = text;
    input.setAttribute('aria-valuetext', text);
  };
  return { element: make('label', { class: 'slider' }, make('span', {}, name), input, told), set };
}

/** Shares of 100 in tenths, the one at `place` as given, the others in proportion. @param {number[]} shares @param {number} place @param {number} wanted */
export function balanced(shares, place, wanted) {
  const rest = shares.reduce((sum, share, at) => sum + (at === place ? 0 : share), 0);
  const left = 100 - wanted;
  const others = shares.length - 1;
  const found = shares.map((share, at) => (at === place ? wanted : Math.round((rest > 0 ? (share / rest) * left : left / others) * 10) / 10));
  // What rounding leaves goes to the largest of the others.
  const largest = found.reduce((best, share, at) => (at !== place && (best < 0 || share > found[best]) ? at : best), -1);
  if (largest >= 0) found[largest] += 100 - found.reduce((sum, share) => sum + share, 0);
  return found.map((share) => Math.round(share * 10) / 10);
}

/** A blend in the standard's notation, what it has nothing of left out. @param {string[]} names @param {number[]} shares */
export function notation(names, shares) {
  const parts = names.map((name, at) => /** @type {[string, number]} */ ([name, shares[at]])).filter(([, share]) => share > 0);
  if (parts.length === 1) return parts[0][0];
  return `${parts.map(([name]) => name).join('/')} (${parts.map(([, share]) => share).join('/')})`;
}

/** @param {Context} context @returns {import('./rooms.js').Tools} */
export function glide(context) {
  const { engine } = context;
  /** @type {string[]} */
  let names = [];
  /** @type {number[]} */
  let shares = [];
  /** @type {Question} */
  let question = { verb: 'glide', values: [] };
  /** @type {{element: HTMLElement, set: (at: number, text: string) => void}[]} */
  let sliders = [];
  const composition = make('div', { role: 'group', 'aria-label': 'Composition' });
  const pictures = make('div', { class: 'pictures' });
  const pressure = slider('Pressure', { min: 0, max: 1000, step: 1 }, (at, isFirst) => {
    const unit = unitOf(value(question, 'pressure') ?? '');
    const found = converted(`${ENDS[0] * (ENDS[1] / ENDS[0]) ** (at / 1000)}bara`, unit);
    if (found !== null) context.ask(changed(question, 'pressure', `${Number(found.toPrecision(4))}${unit}`), true, isFirst);
  });
  const added = /** @type {HTMLInputElement} */ (make('input', { type: 'text', list: 'refrigerants', 'aria-label': 'Component to add', placeholder: 'R-134a', size: '9' }));
  const add = make('div', { class: 'add' }, added, make('button', { type: 'button', click: more }, 'Add component'));

  function more() {
    const name = added.value.trim();
    if (name === '' || names.length >= MOST) return;
    const all = balanced([...shares, 0], names.length, 10);
    names = [...names, name];
    added.value = '';
    context.ask(changed(question, 'refrigerant', notation(names, all)));
  }

  /** @param {string} text */
  function unitOf(text) {
    return text.replace(/^[\s\d.,+\u2212-]+/, '') || 'bara';
  }

  /** A pressure in another unit, by the engine. @param {string} text @param {string} unit @returns {number | null} */
  function converted(text, unit) {
    const found = engine.json(['convert', text, '--to', unit, ...shared(question).filter((one) => /elevation|station/.test(one))]);
    return found?.conversion.result ?? null;
  }

  /** @param {number} place @param {number} wanted @param {boolean} isFirst */
  function mixed(place, wanted, isFirst) {
    shares = balanced(shares, place, wanted);
    context.ask(changed(question, 'refrigerant', notation(names, shares)), true, isFirst);
  }

  /** @param {{refrigerant: string, mass_fraction: number, mole_fraction: number}[]} components */
  function rebuilt(components) {
    const key = value(question, 'mole') === undefined ? 'mass_fraction' : 'mole_fraction';
    const found = components.map((one) => one.refrigerant);
    const isSame = found.every((name) => names.includes(name)) && names.every((name, at) => found.includes(name) || shares[at] === 0);
    if (!isSame) {
      names = found;
      sliders = names.length < 2 ? [] : names.map((name, place) => slider(`${name}, %`, { min: 0, max: 100, step: 0.5 }, (at, isFirst) => mixed(place, at, isFirst)));
      composition.replaceChildren(...sliders.map(({ element }) => element));
    }
    shares = names.map((name) => Math.round(1000 * (components.find((one) => one.refrigerant === name)?.[key] ?? 0)) / 10);
    sliders.forEach(({ set }, place) => set(shares[place], `${shares[place]} %`));
    add.hidden = names.length >= MOST;
  }

  /** @param {Question} asked @param {boolean} all with what takes longer than a frame */
  function draw(asked, all) {
    question = asked;
    const [blend, at] = [value(question, 'refrigerant'), value(question, 'pressure')];
    const mole = value(question, 'mole') === undefined ? [] : ['--mole'];
    const facts = blend && at && engine.json(['saturation', blend, `--pressure=${at}`, ...shared(question), ...mole]);
    if (!facts) {
      pictures.replaceChildren();
      return;
    }
    rebuilt(facts.composition);
    const absolute = converted(at, 'bara');
    if (absolute !== null) pressure.set(1000 * Math.log(absolute / ENDS[0]) / Math.log(ENDS[1] / ENDS[0]), at);
    const drawn = (/** @type {string | undefined} */ kind) => {
      const reply = kind && engine.ask(['chart', blend, `--picture=${kind}`, `--pressures=${at}`, '--format=html', `--date=${today()}`, ...shared(question), ...mole]);
      return reply && reply.code === 0 ? picture(reply.text) : '';
    };
    const first = drawn({ 2: 'lens', 3: 'triangle' }[/** @type {number} */ (facts.composition.length)]);
    if (all || !pictures.firstChild) pictures.replaceChildren(first, drawn('coil'));
    else pictures.firstChild.replaceWith(first);
  }

  return {
    element: make('section', { 'aria-label': 'Sliders and pictures' }, composition, add, pressure.element, pictures),
    update: (asked) => draw(asked, true),
    quick: (asked) => draw(asked, false),
  };
}
