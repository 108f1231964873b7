// Chart: recipes to keep and to open.

import { questionOf, recipe, write } from './address.js';
import { make, save } from './show.js';

/** A recipe is a short text: a larger file is none. */
const MOST_BYTES = 100000;

/** @param {import('./main.js').Context} context @returns {import('./rooms.js').Tools} */
export function chart(context) {
  /** @type {import('./address.js').Question} */
  let question = { verb: 'chart', values: [] };
  const file = /** @type {HTMLInputElement} */ (make('input', { type: 'file', id: 'recipe', accept: '.yaml,.yml,text/yaml' }));
  file.addEventListener('change', async () => {
    const chosen = file.files?.[0];
    if (!chosen) return;
    const text = await chosen.slice(0, MOST_BYTES).text();
    const reply = context.engine.call('open', `${chosen.name.replaceAll('\n', ' ')}\n${text}`);
    file.value = '';
    if (reply.code !== 0) context.fail(reply.words);
    else location.hash = write(questionOf(reply.text.split('\n'), context.commands.get('chart')));
  });
  const keep = make('button', { type: 'button', click: () => save(recipe(question), 'chart.yaml', 'text/yaml') }, 'Save recipe');
  return {
    element: make('section', { class: 'actions', 'aria-label': 'Recipe' }, keep, make('label', { class: 'file' }, 'Open recipe ', file)),
    update(asked) {
      question = asked;
    },
  };
}
