// What is kept on the device, and nowhere else: site, units, kit.

/** @typedef {import('./address.js').Question} Question */

const NAME = 'zeotrope';
const KEPT = ['elevation', 'station-pressure', 'units', 'temperature-unit', 'pressure-unit', 'shop', 'paper', 'gauge', 'zeroed',
  'gauge-accuracy', 'gauge-span', 'clamp-accuracy', 'clamp-contact', 'site-accuracy', 'low-accuracy', 'low-span', 'high-accuracy', 'high-span', 'air-accuracy'];

/** @returns {Record<string, string>} */
export function all() {
  try {
    return JSON.parse(localStorage.getItem(NAME) ?? '{}');
  } catch {
    // Storage may be forbidden, or hold what another page wrote.
    return {};
  }
}

/** Keeps the site, the units and the kit of a question. @param {Question} question */
export function keep({ values }) {
  const found = { ...all(), ...Object.fromEntries(values.filter(([key]) => KEPT.includes(key))) };
  try {
    localStorage.setItem(NAME, JSON.stringify(found));
  } catch {
    // Then nothing is kept.
  }
}

export function forget() {
  try {
    localStorage.removeItem(NAME);
  } catch {
    // Nothing was kept.
  }
}

/**
 * Values to begin with, and what was kept of those that the command has.
 * @param {[string, string][]} example
 * @param {import('./address.js').Command | undefined} command
 * @returns {[string, string][]}
 */
export function kept(example, command) {
  const found = all();
  const names = command?.fields.map(({ name }) => name) ?? [];
  const added = Object.entries(found).filter(([key]) => names.includes(key) && !example.some(([own]) => own === key));
  return [...example.map(([key, text]) => /** @type {[string, string]} */ ([key, found[key] ?? text])), ...added];
}
