// The address: #command?option=value&option=value, in the program's words.

/**
 * @typedef {object} Field an option or an argument of a command
 * @property {string} name
 * @property {boolean} bare an argument without a name
 * @property {boolean} many
 * @property {boolean} flag
 * @property {string | null} value
 * @property {string | null} help
 * @property {string | null} group
 * @property {[string, string | null][]} choices
 *
 * @typedef {object} Command
 * @property {string} name
 * @property {string | null} about
 * @property {string | null} after
 * @property {Field[]} fields
 *
 * @typedef {object} Question
 * @property {string} verb
 * @property {[string, string][]} values
 */

/**
 * @param {string} hash
 * @returns {Question}
 */
export function read(hash) {
  const [verb, query = ''] = split(hash.replace(/^#/, ''), '?');
  // A plus sign is a plus sign here, as in +/-2F.
  const values = [...new URLSearchParams(query.replaceAll('+', '%2B'))];
  return { verb: decoded(verb), values };
}

/** @param {string} text @param {string} at */
function split(text, at) {
  const place = text.indexOf(at);
  return place < 0 ? [text] : [text.slice(0, place), text.slice(place + 1)];
}

/** @param {string} text */
function decoded(text) {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

/** @param {Question} question */
export function write({ verb, values }) {
  const part = (/** @type {string} */ text) =>
    encodeURIComponent(text).replaceAll('%2F', '/').replaceAll('%2C', ',');
  const query = values.map(([name, value]) => (value === '' ? part(name) : `${part(name)}=${part(value)}`));
  return `#${verb}${query.length ? '?' : ''}${query.join('&')}`;
}

/** The first value of a name. @param {Question} question @param {string} name */
export function value({ values }, name) {
  return values.find(([key]) => key === name)?.[1];
}

/**
 * The question with a value set in place; left out where it is undefined.
 * @param {Question} question @param {string} name @param {string | undefined} text
 * @returns {Question}
 */
export function changed({ verb, values }, name, text) {
  const at = values.findIndex(([key]) => key === name);
  const rest = values.filter(([key], place) => key !== name || place === at);
  if (text === undefined) return { verb, values: rest.filter(([key]) => key !== name) };
  if (at < 0) return { verb, values: [...rest, [name, text]] };
  return { verb, values: rest.map(([key, old]) => [key, key === name ? text : old]) };
}

/**
 * The program's arguments for a question.
 * @param {Question} question
 * @param {Command | undefined} command
 * @returns {string[]}
 */
export function argumentsOf({ verb, values }, command) {
  const fields = command?.fields ?? [];
  /** @type {string[]} */
  const bare = [];
  const named = [];
  for (const [key, text] of values) {
    // One word for one refrigerant and for several.
    const known = fields.find(({ name }) => name === key)
      ?? fields.find(({ name, bare }) => bare && (name === `${key}s` || `${name}s` === key));
    if (known?.bare) bare.push(...(known.many ? list(text) : [text]));
    else if (known?.flag || (text === '' && known?.value == null)) named.push(...(text === 'false' ? [] : [`--${key}`]));
    else if (text !== '') named.push(`--${key}=${text}`);
  }
  return [verb, ...bare, ...named];
}

/** A list as typed; a comma inside brackets parts nothing. @param {string} text */
export function list(text) {
  return text.split(/,(?![^(]*\))/).map((one) => one.trim()).filter((one) => one !== '');
}

/**
 * The question that arguments stand for.
 * @param {string[]} args @param {Command | undefined} command
 * @returns {Question}
 */
export function questionOf([verb, ...rest], command) {
  const bare = command?.fields.find((field) => field.bare);
  /** @type {string[]} */
  const names = [];
  /** @type {[string, string][]} */
  const values = [];
  for (const one of rest) {
    const [key, text = ''] = split(one, '=');
    if (key.startsWith('--')) values.push([key.slice(2), text]);
    else names.push(one);
  }
  if (bare && names.length) values.unshift([bare.name, names.join(',')]);
  return { verb, values };
}

/** A recipe, as a file keeps it. @param {Question} question */
export function recipe({ values }) {
  const lines = values.map(([key, text]) => {
    if (/^refrigerants?$/.test(key)) return `refrigerants: ${JSON.stringify(list(text))}`;
    return `${key}: ${text === '' ? 'true' : JSON.stringify(text)}`;
  });
  return `${lines.join('\n')}\n`;
}
