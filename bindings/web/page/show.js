// What the engine wrote, put on the page.

/** @typedef {import('./engine.js').Reply} Reply */

/**
 * @param {string} tag
 * @param {Record<string, any>} [given] attributes; a function is a listener
 * @param {...(Node | string | null | undefined | false)} inside
 * @returns {HTMLElement}
 */
export function make(tag, given = {}, ...inside) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (typeof value === 'function') element.addEventListener(name, value);
    else if (value === true) element.setAttribute(name, '');
    else if (value !== false && value != null) element.setAttribute(name, String(value));
  }
  element.append(...inside.filter((one) => one != null && one !== false));
  return element;
}

let pictures = 0;

/** Names inside a picture are its own: several pictures share a page. @param {string} text */
function apart(text) {
  return text.replace(/<svg[\s\S]*?<\/svg>/g, (one) => {
    pictures += 1;
    return one.replaceAll('id="field"', `id="field${pictures}"`).replaceAll('url(#field)', `url(#field${pictures})`);
  });
}

/**
 * The body of a page that the engine wrote, below the headings of this one.
 * @param {string} html
 * @returns {DocumentFragment}
 */
export function body(html) {
  const opened = /<main[^>]*>/.exec(html);
  if (!opened) return parsed('');
  const inner = html.slice(opened.index + opened[0].length, html.lastIndexOf('</main>'))
    .replace(/<(\/?)h([12])>/g, (_, end, level) => `<${end}h${Number(level) + 1}>`)
    // This page lets no mark-up carry a style: attributes are set below, colors of a print are left out.
    .replace(/<style>[^]*?<\/style>/g, '')
    .replace(/(<[a-z]+[^>]*) style="/g, '$1 data-style="');
  return parsed(apart(inner));
}

/** @param {string} html */
function parsed(html) {
  const template = document.createElement('template');
  template.innerHTML = html;
  for (const element of template.content.querySelectorAll('[data-style]')) {
    for (const one of (element.getAttribute('data-style') ?? '').split(';')) {
      const [name, ...value] = one.split(':');
      /** @type {HTMLElement} */ (element).style.setProperty(name.trim(), value.join(':').trim());
    }
    element.removeAttribute('data-style');
  }
  return template.content;
}

/**
 * A picture that the engine drew on a page, without the lines that the answer says already.
 * @param {string} html
 * @returns {Node}
 */
export function picture(html) {
  const inner = body(html);
  const said = new Set([...document.querySelectorAll('#answer p')].map((one) => one.textContent));
  // A hazard's symbol, which stands above, is no picture.
  const frame = inner.querySelector('div > svg')?.parentElement;
  if (!frame) return make('figure', {});
  const head = frame.previousElementSibling;
  /** @type {Element[]} */
  const notes = [];
  for (let next = frame.nextElementSibling; next?.tagName === 'P'; next = next.nextElementSibling) {
    if (!said.has(next.textContent)) notes.push(next);
  }
  return make('figure', {}, head, frame, ...notes);
}

/**
 * The error and the hint of a reply, without their labels.
 * @param {string} words
 */
export function problem(words) {
  const part = (/** @type {string} */ label) => words.split(`${label}: `)[1]?.split(/\n(?:hint|error|warning): /)[0]?.trim();
  return { error: part('error') ?? words.trim(), hint: part('hint') };
}

/** Hands bytes over as a file. @param {Uint8Array | string} bytes @param {string} name @param {string} type */
export function save(bytes, name, type) {
  const address = URL.createObjectURL(new Blob([/** @type {BlobPart} */ (bytes)], { type }));
  const link = make('a', { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

/** Today, as a print dates it. */
export function today() {
  const now = new Date();
  return new Date(now.getTime() - now.getTimezoneOffset() * 60000).toISOString().slice(0, 10);
}
