// Leak: a slider for the share lost.

import { changed, value } from './address.js';
import { make } from './show.js';
import { slider } from './glide.js';

/** @param {import('./main.js').Context} context @returns {import('./rooms.js').Tools} */
export function leak(context) {
  /** @type {import('./address.js').Question} */
  let question = { verb: 'leak', values: [] };
  const lost = slider('Lost, % by mass', { min: 1, max: 95, step: 1 }, (at, isFirst) =>
    context.ask(changed(question, 'lost', `${at}%`), true, isFirst));
  const all = make('button', { type: 'button', click: () => context.ask(changed(question, 'lost', undefined)) }, 'Every tenth');
  return {
    element: make('section', { 'aria-label': 'Share lost' }, lost.element, all),
    update(asked) {
      question = asked;
      const text = value(question, 'lost') ?? '';
      lost.set(Number.parseFloat(text) || 1, text || 'every tenth');
    },
  };
}
