// Writes the one file of the page: modules joined, styles, the engine packed.
// node bundle.mjs ENGINE.wasm OUT.html DATE
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';

const [engine, out, built] = process.argv.slice(2);
const room = new URL('page/', import.meta.url);
const part = (name) => readFileSync(new URL(name, room), 'utf8');

// Modules in the order of their needs; names at their top level are unique over all.
const order = [];
const joined = new Map();
function join(name, above) {
  if (above.includes(name)) throw new Error(`a circle of imports: ${[...above, name].join(' > ')}`);
  if (joined.has(name)) return;
  const text = part(name);
  for (const [, needed] of text.matchAll(/^import \{[^}]*\} from '\.\/([a-z]+\.js)';$/gm)) join(needed, [...above, name]);
  joined.set(name, text.replace(/^import \{[^}]*\} from '[^']*';$/gm, '').replace(/^export /gm, ''));
  order.push(name);
}
join('main.js', []);
const script = order.map((name) => joined.get(name)).join('\n');
const names = [...script.matchAll(/^(?:async )?(?:function|const|let|class) ([A-Za-z_]+)/gm)].map(([, name]) => name);
const twice = names.find((name, at) => names.indexOf(name) !== at);
if (twice) throw new Error(`two modules name ${twice} at their top level`);

const style = part('style.css');
const hash = (text) => `sha256-${createHash('sha256').update(text).digest('base64')}`;
const blanks = {
  built,
  style,
  script,
  engine: gzipSync(readFileSync(engine), { level: 9 }).toString('base64'),
  'style-hash': hash(style),
  'script-hash': hash(script),
};
const page = part('index.html').replace(/\{\{([a-z-]+)\}\}/g, (_, name) => blanks[name]);
writeFileSync(out, page);
console.log(`${out}: ${(page.length / 1e6).toFixed(2)} MB`);
if (page.length >= 4e6) throw new Error('the page is 4 MB or larger');
