// The page: an address becomes a question, a question a form and an answer.

import { Engine } from './engine.js';
import { argumentsOf, changed, read, value, write } from './address.js';
import { body, make, problem, save, today } from './show.js';
import { form, fill, label, point } from './forms.js';
import { EXAMPLES, ROOMS, roomOf } from './rooms.js';
import { exercises } from './exercises.js';
import { keep, kept } from './kept.js';

/** @typedef {import('./address.js').Command} Command */
/** @typedef {import('./address.js').Question} Question */

/**
 * @typedef {object} Context what a room works with
 * @property {Engine} engine
 * @property {Map<string, Command>} commands
 * @property {string} version
 * @property {(question: Question, quick?: boolean, isStep?: boolean) => void} ask a quick one is drawn within a frame and
 *   answered whole a little later; a step is one to go back to
 * @property {(text: string) => void} say tells a screen reader
 * @property {(words: string) => void} fail shows an error of the program
 */

const FORMATS = { pdf: 'application/pdf', csv: 'text/csv', json: 'application/json', svg: 'image/svg+xml', text: 'text/plain' };
const at = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));

/** @type {Context} */
let context;
/** @type {HTMLFormElement | null} */
let shown = null;
/** @type {import('./rooms.js').Tools | undefined} */
let tools;
/** @type {Question} */
let now;
let later = 0;

/** After a slider has stood still for so long, ms, the whole answer follows. */
const PAUSE = 150;

/** Options that shape a print alone, and mean nothing on a screen. */
const OF_PAPER = ['form', 'paper', 'landscape'];

/** The arguments of a question in a format. @param {Question} question @param {string} format */
export function formatted(question, format) {
  let asked = { verb: question.verb, values: question.values.filter(([key]) => key !== 'format') };
  if (asked.verb === 'chart') {
    const isPage = format === 'html' || format === 'pdf';
    if (format !== 'pdf') asked = { ...asked, values: asked.values.filter(([key]) => !OF_PAPER.includes(key)) };
    if (isPage && !value(asked, 'date')) asked = changed(asked, 'date', today());
  }
  return [...argumentsOf(asked, context.commands.get(asked.verb)), `--format=${format}`];
}

/** Shows what the address asks. */
function route() {
  clearTimeout(later);
  let question = read(location.hash || '#reading');
  const room = roomOf(question.verb);
  if (question.values.length === 0) {
    const verbs = ROOMS[room].verbs;
    const verb = question.verb in verbs ? question.verb : question.verb === room ? Object.keys(verbs)[0] ?? room : question.verb;
    question = { verb, values: kept(verbs[verb]?.example ?? EXAMPLES[verb] ?? [], context.commands.get(verb)) };
    history.replaceState(null, '', write(question));
  }
  now = question;
  for (const link of at('rooms').querySelectorAll('a')) {
    if (link.hash === `#${room}`) link.setAttribute('aria-current', 'page');
    else link.removeAttribute('aria-current');
  }
  const { title, about, verbs } = ROOMS[room];
  const command = context.commands.get(question.verb);
  const others = Object.keys(verbs).length > 1 || (room === 'sources' && !(question.verb in verbs)) ? Object.keys(verbs) : [];
  const tabs = others.map((verb) => make('a', { href: `#${verb}`, 'aria-current': verb === question.verb && 'page' }, label(verb)));
  at('head').replaceChildren(make('h1', {}, title), make('p', {}, about),
    tabs.length > 0 ? make('nav', { 'aria-label': title, class: 'tabs' }, ...tabs) : '');
  shown = null;
  tools = undefined;
  at('answer').replaceChildren();
  at('problem').replaceChildren();
  if (room === 'exercises') {
    at('form').replaceChildren();
    at('tools').replaceChildren(exercises(context, question));
    document.title = 'Exercises · zeotrope';
    return;
  }
  tools = ROOMS[room].tools?.(context);
  at('tools').replaceChildren(tools?.element ?? '');
  if (command) {
    const first = verbs[question.verb]?.first ?? command.fields.slice(0, 8).map(({ name }) => name);
    shown = form(command, question, first, (asked) => context.ask(asked));
    at('form').replaceChildren(...(command.fields.length ? [shown] : []));
  } else {
    at('form').replaceChildren();
  }
  answer(question);
}

/** Answers a question on the page. @param {Question} question */
function answer(question) {
  const wanted = value(question, 'format') ?? 'html';
  const reply = context.engine.ask(formatted(question, wanted));
  if (shown) point(shown, null);
  if (reply.code !== 0) {
    at('answer').replaceChildren();
    context.fail(reply.words);
    tools?.update(question);
    return;
  }
  at('problem').replaceChildren();
  const told = wanted === 'html' ? body(reply.text)
    : wanted === 'svg' ? body(`<main>${reply.text}</main>`)
      : wanted === 'pdf' ? make('p', {}, 'The answer is a file: save it below.') : make('pre', { tabindex: '0' }, reply.text);
  at('answer').replaceChildren(told, actions(question));
  const title = at('answer').querySelector('h2')?.textContent ?? question.verb;
  document.title = `${title} · zeotrope`;
  // A slider says itself where it stands.
  if (document.activeElement?.getAttribute('type') !== 'range') context.say(`Answered: ${title}`);
  tools?.update(question);
}

/** Buttons below an answer. @param {Question} question */
function actions(question) {
  const name = (value(question, 'refrigerant') ?? value(question, 'refrigerants') ?? '').replace(/[^A-Za-z0-9-]+/g, '_').slice(0, 40);
  const formats = /** @type {(keyof typeof FORMATS)[]} */ (['pdf', 'csv', 'json', 'text', ...(question.verb === 'chart' ? ['svg'] : [])]);
  const give = (/** @type {keyof typeof FORMATS} */ format) => {
    const reply = context.engine.ask(formatted(question, format));
    if (reply.code !== 0) context.fail(reply.words);
    else save(reply.bytes, `${question.verb}-${name}.${format === 'text' ? 'txt' : format}`, FORMATS[format]);
  };
  return make('div', { class: 'actions', role: 'group', 'aria-label': 'Print or save' },
    make('button', { type: 'button', click: () => print() }, 'Print'),
    ...formats.map((format) => make('button', { type: 'button', click: () => give(format) }, `Save ${format === 'text' ? 'text' : format.toUpperCase()}`)));
}

/** Shows an error of the program, also beside its field. @param {string} words */
function fail(words) {
  const { error, hint } = problem(words);
  // What was answered before is no answer to this.
  context.say('');
  at('problem').replaceChildren(make('p', {}, make('strong', {}, 'Error: '), error), hint ? make('p', {}, make('strong', {}, 'Hint: '), hint) : '');
  if (shown) point(shown, { error, hint });
}

/** @param {Question} question @param {boolean} [quick] @param {boolean} [isStep] */
function ask(question, quick = false, isStep = !quick) {
  const address = write(question);
  if (!isStep || address === location.hash) history.replaceState(null, '', address);
  else history.pushState(null, '', address);
  now = question;
  if (roomOf(question.verb) === 'exercises') return route();
  if (isStep) keep(question);
  clearTimeout(later);
  if (shown) for (const [name, text] of question.values) fill(shown, name === 'refrigerants' ? 'refrigerant' : name, text);
  if (quick && tools?.quick) {
    tools.quick(question);
    later = setTimeout(answer, PAUSE, question);
  } else {
    answer(question);
  }
}

/** The engine's bytes, from the page itself. */
async function unpacked() {
  const text = at('engine').textContent ?? '';
  const packed = Uint8Array.from(atob(text.trim()), (letter) => letter.charCodeAt(0));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream('gzip'));
  return new Response(stream).arrayBuffer();
}

async function start() {
  const begun = performance.now();
  const engine = await Engine.from(await unpacked());
  const { version, commands } = JSON.parse(engine.call('forms', '').text);
  // One word in an address for one refrigerant and for several.
  for (const { fields } of commands) for (const field of fields) if (field.bare && field.name === 'refrigerants') field.name = 'refrigerant';
  context = {
    engine, version, ask, fail,
    commands: new Map(commands.map((/** @type {Command} */ command) => [command.name, command])),
    say: (text) => { at('status').textContent = text; },
  };
  const names = engine.json(['list'])?.refrigerants ?? [];
  at('refrigerants').replaceChildren(...names.map((/** @type {any} */ one) => make('option', { value: one.refrigerant ?? one.designation ?? one })));
  at('rooms').replaceChildren(...Object.entries(ROOMS).map(([name, { title }]) => make('a', { href: `#${name}` }, title)));
  at('version').textContent = `zeotrope ${version}, page built ${document.documentElement.dataset.built}, opened ${today()}`;
  addEventListener('popstate', route);
  document.documentElement.dataset.ready = String(Math.round(performance.now() - begun));
  route();
}

// For whoever looks into the page with a browser's tools, and for its tests.
Object.assign(globalThis, { zeotrope: { asked: (/** @type {string[]} */ args) => context.engine.ask(args), question: () => now } });
start().catch((failed) => {
  at('problem').replaceChildren(make('p', {}, `This browser could not start the engine: ${failed}. The page needs WebAssembly and DecompressionStream.`));
});
