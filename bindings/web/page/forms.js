// Forms: a field for each option of a command, named and explained by the program itself.

import { make } from './show.js';
import { list } from './address.js';

/** @typedef {import('./address.js').Command} Command */
/** @typedef {import('./address.js').Field} Field */
/** @typedef {import('./address.js').Question} Question */

/** How the page names a field; the program's help stands below it. @param {string} name */
export function label(name) {
  const words = name.replaceAll('-', ' ');
  return words[0].toUpperCase() + words.slice(1);
}

/**
 * A form for a command.
 * @param {Command} command
 * @param {Question} question
 * @param {string[]} first names of the fields that stand in front
 * @param {(question: Question) => void} changed
 * @returns {HTMLFormElement}
 */
export function form(command, question, first, changed) {
  const fields = first.map((name) => command.fields.find((field) => field.name === name)).filter((field) => field != null);
  const rest = command.fields.filter((field) => !fields.includes(field));
  const values = new Map();
  for (const [key, text] of question.values) {
    const field = find(command, key);
    if (field) values.set(field.name, values.has(field.name) ? `${values.get(field.name)}, ${text}` : text);
  }
  const groups = new Map();
  for (const field of rest) {
    const group = field.group ?? 'More';
    groups.set(group, [...(groups.get(group) ?? []), field]);
  }
  const more = [...groups].map(([name, members]) =>
    make('fieldset', {}, make('legend', {}, name), ...members.map((/** @type {Field} */ field) => row(field, values.get(field.name)))));
  const open = rest.some((field) => values.has(field.name));
  const element = /** @type {HTMLFormElement} */ (make('form', { 'aria-label': command.name, novalidate: true },
    make('div', { class: 'fields' }, ...fields.map((field) => row(field, values.get(field.name)))),
    rest.length > 0 && make('details', { open }, make('summary', {}, 'More options'), ...more),
    make('button', { type: 'submit' }, 'Answer')));
  const told = () => changed({ verb: command.name, values: typed(element, command, question) });
  element.addEventListener('submit', (event) => {
    event.preventDefault();
    told();
  });
  element.addEventListener('change', told);
  return element;
}

/** @param {Command} command @param {string} key */
function find(command, key) {
  return command.fields.find(({ name }) => name === key)
    ?? command.fields.find(({ name, bare }) => bare && (name === `${key}s` || `${name}s` === key));
}

/**
 * @param {Field} field
 * @param {string | undefined} text
 */
function row(field, text) {
  const id = `field-${field.name}`;
  const help = { id: `${id}-help` };
  const described = { id, name: field.name, 'aria-describedby': `${id}-help ${id}-problem` };
  const input = () => {
    if (field.flag) {
      return make('input', { ...described, type: 'checkbox', checked: text !== undefined && text !== 'false' });
    }
    if (field.choices.length > 0 && !field.many) {
      const choices = field.choices.map(([name, about]) =>
        make('option', { value: name, selected: name === text, title: about }, name));
      return make('select', described, make('option', { value: '' }, ''), ...choices);
    }
    const isRefrigerant = field.value === 'REFRIGERANT';
    return make('input', {
      ...described, type: 'text', value: text, autocomplete: 'off', spellcheck: 'false', autocapitalize: 'off',
      list: isRefrigerant && 'refrigerants', placeholder: field.many && isRefrigerant ? 'R-454B, R-32' : null,
    });
  };
  return make('div', { class: field.flag ? 'field flag' : 'field' },
    make('label', { for: id }, label(field.name)), input(),
    make('small', help, field.help ?? ''), make('p', { class: 'problem', id: `${id}-problem` }));
}

/**
 * The values of a form; what the form has no field for is kept from the question.
 * @param {HTMLFormElement} element @param {Command} command @param {Question} question
 * @returns {[string, string][]}
 */
function typed(element, command, question) {
  /** @type {[string, string][]} */
  const values = [];
  for (const field of command.fields) {
    const input = /** @type {HTMLInputElement} */ (element.elements.namedItem(field.name));
    if (field.flag) {
      if (input.checked) values.push([field.name, '']);
    } else if (input.value.trim() !== '') {
      const isList = field.many && !field.bare && field.name !== 'note';
      values.push([field.name, isList ? list(input.value).join(',') : input.value.trim()]);
    }
  }
  return [...values, ...question.values.filter(([key]) => !find(command, key))];
}

/** Writes a value into the form's field, unless someone types there. @param {HTMLFormElement} element @param {string} name @param {string} text */
export function fill(element, name, text) {
  const input = /** @type {HTMLInputElement | null} */ (element.elements.namedItem(name));
  if (input && input !== document.activeElement) input.value = text;
}

/**
 * Puts an error beside the field that it names, or whose text it quotes.
 * @param {HTMLFormElement} element
 * @param {{error: string, hint?: string} | null} problem none takes back what was said
 */
export function point(element, problem) {
  for (const told of element.querySelectorAll('.problem')) told.textContent = '';
  for (const input of element.querySelectorAll('[aria-invalid]')) input.removeAttribute('aria-invalid');
  if (!problem) return;
  const inputs = /** @type {HTMLInputElement[]} */ ([...element.querySelectorAll('input, select')]);
  const named = [...problem.error.matchAll(/--([a-z-]+)/g)].map(([, name]) => name);
  const input = inputs.find(({ name }) => named.includes(name))
    ?? inputs.find(({ value, type }) => type === 'text' && value !== '' && problem.error.includes(`'${value}'`))
    ?? inputs.find(({ value, type }) => type === 'text' && value !== '' && list(value).some((one) => problem.error.includes(`'${one}'`)));
  if (!input) return;
  input.setAttribute('aria-invalid', 'true');
  input.closest('details')?.setAttribute('open', '');
  const told = element.querySelector(`#${input.id}-problem`);
  if (told) told.textContent = problem.hint ? `${problem.error} (${problem.hint})` : problem.error;
}
