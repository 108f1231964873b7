// Cycle: the picture of the first refrigerant, its two levels to be dragged.

import { argumentsOf, changed, list, value } from './address.js';
import { make, picture } from './show.js';

/** @typedef {import('./address.js').Question} Question */

const SVG = 'http://www.w3.org/2000/svg';
/** What a press of an arrow key changes a pressure by. */
const STEP = 1.01;
/** So long after the last press the cycle is drawn anew, ms. */
const PATIENCE = 400;

/** @param {string} tag @param {Record<string, string | number>} given */
function drawn(tag, given) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(given)) element.setAttribute(name, String(value));
  return element;
}

/** @param {import('./main.js').Context} context @returns {import('./rooms.js').Tools} */
export function cycle(context) {
  const { engine } = context;
  const place = make('div', { class: 'pictures' });
  /** @type {string | null} The level that is being moved keeps the focus when the picture is drawn anew. */
  let held = null;
  let later = 0;

  /**
   * A level across the picture.
   * @param {Question} question @param {string} name @param {number} pressure in the axis' unit @param {string} unit
   * @param {SVGGraphicsElement} svg @param {{from: number, to: number}} axis @param {Record<string, number>} frame
   */
  function level(question, name, pressure, unit, svg, axis, frame) {
    const y = frame.y + frame.height * (1 - Math.log(pressure / axis.from) / Math.log(axis.to / axis.from));
    const text = `${Number(pressure.toPrecision(4))} ${unit}`;
    const handle = drawn('g', {
      role: 'slider', tabindex: 0, class: 'level', 'data-level': name, 'aria-label': `${name} pressure`,
      'aria-orientation': 'vertical', 'aria-valuemin': axis.from, 'aria-valuemax': axis.to, 'aria-valuenow': pressure, 'aria-valuetext': text,
    });
    const ends = { x1: frame.x, x2: frame.x + frame.width, y1: y, y2: y };
    handle.append(drawn('line', { ...ends, class: 'grip' }), drawn('line', { ...ends, class: 'edge' }),
      drawn('circle', { cx: frame.x + frame.width - 12, cy: y, r: 9, class: 'knob' }));
    let at = pressure;
    // The level moves at once; the cycle is drawn anew where it rests.
    const move = (/** @type {number} */ wanted) => {
      at = Number(Math.min(Math.max(wanted, axis.from * 1.001), axis.to / 1.001).toPrecision(4));
      handle.setAttribute('transform', `translate(0 ${-frame.height * Math.log(at / pressure) / Math.log(axis.to / axis.from)})`);
      handle.setAttribute('aria-valuenow', String(at));
      handle.setAttribute('aria-valuetext', `${at} ${unit}`);
      context.say(`${name} ${at} ${unit}`);
    };
    const rest = () => {
      held = name;
      context.ask(changed(question, name, `${at}${unit}`));
    };
    handle.addEventListener('keydown', (event) => {
      const by = { ArrowUp: STEP, ArrowRight: STEP, ArrowDown: 1 / STEP, ArrowLeft: 1 / STEP, PageUp: STEP ** 5, PageDown: STEP ** -5 }[/** @type {KeyboardEvent} */ (event).key];
      if (!by) return;
      event.preventDefault();
      move(at * by);
      clearTimeout(later);
      later = setTimeout(rest, PATIENCE);
    });
    handle.addEventListener('pointerdown', (event) => {
      event.preventDefault();
      const box = svg.getBoundingClientRect();
      const scale = box.height / /** @type {any} */ (svg).viewBox.baseVal.height;
      const moved = (/** @type {PointerEvent} */ to) => {
        const share = 1 - ((to.clientY - box.top) / scale - frame.y) / frame.height;
        move(axis.from * (axis.to / axis.from) ** share);
      };
      const done = () => {
        removeEventListener('pointermove', moved);
        removeEventListener('pointerup', done);
        removeEventListener('pointercancel', done);
        if (at !== pressure) rest();
      };
      addEventListener('pointermove', moved);
      addEventListener('pointerup', done);
      addEventListener('pointercancel', done);
    });
    return handle;
  }

  return {
    element: make('section', { 'aria-label': 'Picture of the cycle' }, place),
    update(question) {
      const first = list(value(question, 'refrigerants') ?? value(question, 'refrigerant') ?? '')[0] ?? '';
      const alone = changed(changed(question, 'refrigerants', undefined), 'refrigerant', first);
      const drawable = { ...alone, values: alone.values.filter(([key]) => !['picture', 'compare-at', 'explain', 'step'].includes(key)) };
      const args = [...argumentsOf(drawable, context.commands.get('cycle'))];
      const reply = engine.ask([...args, '--picture=ph', '--format=html']);
      const found = reply.code === 0 && engine.json(args);
      const axes = found && JSON.parse(engine.call('axes', [...args, '--picture=ph', '--format=svg'].join('\n')).text);
      if (!found || !axes) {
        place.replaceChildren();
        return;
      }
      place.replaceChildren(picture(reply.text));
      const svg = /** @type {SVGGraphicsElement} */ (place.querySelector('svg'));
      const rect = svg.querySelector('clipPath rect');
      const frame = Object.fromEntries(['x', 'y', 'width', 'height'].map((name) => [name, Number(rect?.getAttribute(name))]));
      const unit = axes.y.label.split(', ').pop();
      const pascal = Object.entries({ evaporating: found.results[0].evaporating_pressure_Pa, condensing: found.results[0].condensing_pressure_Pa });
      for (const [name, pressure] of pascal) {
        const at = engine.json(['convert', `${pressure}Pa`, '--to', unit])?.conversion.result;
        if (at && (name === 'evaporating' || value(question, 'condensing'))) svg.append(level(question, name, at, unit, svg, axes.y, frame));
      }
      if (held) /** @type {SVGElement | null} */ (svg.querySelector(`[data-level="${held}"]`))?.focus({ preventScroll: true });
      held = null;
    },
  };
}
