// Holds the page against the program: 200 questions in node, the page in Chromium and Firefox.
// node test.mjs PROGRAM ENGINE.wasm PAGE.html
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import puppeteer from 'puppeteer-core';
import { argumentsOf, changed, list, questionOf, read, recipe, write } from './page/address.js';
import { Engine } from './page/engine.js';
import { balanced, notation } from './page/glide.js';

const [program, wasm, page] = process.argv.slice(2);

/** What the program writes, its environment empty of what could change an answer. */
function asked(args) {
  const env = { PATH: process.env.PATH, HOME: '/nonexistent' };
  const run = spawnSync(program, args, { env, cwd: '/', maxBuffer: 1 << 28 });
  return { code: run.status, text: run.stdout.toString(), words: run.stderr.toString() };
}

/** Questions of every kind, right and wrong. */
function questions() {
  const names = ['R-134a', 'R-32', 'R-290', 'R-717', 'R-744', 'R-407C', 'R-410A', 'R-454B', 'R-404A', 'R-507A', 'R-32/R-1234yf (50/50)'];
  const all = [];
  for (const name of names) {
    all.push(['saturation', name, '--temperature=5C'], ['saturation', name, '--pressure=6bara', '--units=ip'], ['show', name, '--sources'], ['exposure', name],
      // no round pressure: 1.01325 less, its last printed digit would hang on rounding
      ['saturation', name, '--temperature=-20C', '--format=csv'], ['state', name, '--temperature=80C', '--pressure=5.01237bara'], ['glide', name, '--pressure=6.01237bara', '--model=ideal'],
      ['glide', name, '--pressure=65psig', '--explain', '--brief'], ['superheat', name, '--pressure=4barg', '--line=20C', '--gauge-accuracy=0.1bar', '--clamp-accuracy=0.5K'],
      ['subcooling', name, '--pressure=14barg', '--line=20C', '--elevation=1600m'], ['chart', name, '--from=-30C', '--to=20C', '--step=10C'],
      ['chart', name, '--from=-30C', '--to=20C', '--step=10C', '--format=html', '--date=2026-01-02'], ['chart', name, '--pressures=2bara,4bara', '--format=markdown'],
      ['cycle', name, '--evaporating=-10C', '--condensing=25C', '--format=markdown'], ['at-rest', name, '--pressure=5barg', '--temperature=20C'],
      ['saturation', name, '--temperature=999C'], ['state', name, '--temperature=1e999C', '--pressure=5bara'], ['convert', '70psig', '--to', 'bara', '--elevation=1600m'],
      ['subcooling', name, '--pressure=3barg', '--wanted=5K']);
  }
  for (const name of ['R-407C', 'R-454B', 'R-455A']) {
    for (const lost of ['10%', '50%']) all.push(['leak', name, '--temperature=25C', `--lost=${lost}`], ['draw', name, '--temperature=25C', '--filled=80%', `--lost=${lost}`]);
  }
  const lens = ['--pressures=10bara', '--format=svg'];
  all.push(['chart', 'R-32/R-1234yf (50/50)', '--picture=lens', ...lens], ['chart', 'R-454B', '--picture=lens', ...lens], ['chart', 'R-407C', '--picture=triangle', ...lens],
    ['list'], ['convert', '70psig', '--to', 'bara'], ['convert', '65psi', '--to', 'bara'], ['saturation', 'R-4O7C', '--temperature=5C'], ['saturation'], ['nothing'],
    ['saturation', 'R-32', '--temperature=5C', '--foo=1'], ['chart', 'R-32', '--form=wallet', '--format=text'], ['moist-air', '--dry-bulb=25C', '--relative-humidity=50%'],
    ['saturation', 'R-32/R-125 (50/60)', '--temperature=5C'], ['glide', 'R-32', '--pressure=6bar'], ['chart', 'R-32', '--picture=triangle', ...lens]);
  return all;
}

/** JSON of both, numbers within 1e-8 of each other. */
function same(here, there, path) {
  if (typeof here === 'number' && typeof there === 'number') {
    assert.ok(Math.abs(here - there) <= 1e-8 * Math.max(Math.abs(here), Math.abs(there), 1e-6), `${path}: ${here} and ${there}`);
  } else if (here && there && typeof here === 'object') {
    assert.deepEqual(Object.keys(here), Object.keys(there), path);
    for (const key of Object.keys(here)) same(here[key], there[key], `${path}/${key}`);
  } else assert.equal(here, there, path);
}

async function inNode() {
  const engine = await Engine.from(readFileSync(wasm));
  const all = questions();
  assert.ok(all.length >= 200);
  let answered = 0;
  for (const args of all) {
    const [here, there] = [engine.ask(args), asked(args)];
    // A spreadsheet has all digits, of which the last differ between two processors' logarithms.
    const isSheet = args.includes('--format=csv');
    const cells = (text) => text.split(/[,\n]/).map((cell) => (isSheet && cell !== '' && !Number.isNaN(Number(cell)) ? Number(cell) : cell));
    if (isSheet) same(cells(here.text), cells(there.text), args.join(' '));
    const texts = ({ code, text, words }) => ({ code, words, text: isSheet ? '' : text });
    assert.deepEqual(texts(here), texts(there), args.join(' '));
    answered += here.code === 0 ? 1 : 0;
  }
  assert.ok(answered >= 120, `${answered} of ${all.length} were answered`);
  for (const args of all.slice(0, 170).filter((_, place) => place % 4 === 0)) {
    const json = [...args.filter((one) => !one.startsWith('--format')), '--format=json'];
    const [here, there] = [engine.ask(json), asked(json)];
    assert.equal(here.code, there.code, json.join(' '));
    if (here.code === 0) same(JSON.parse(here.text), JSON.parse(there.text), json.join(' '));
  }
  const pdf = engine.ask(['chart', 'R-454B', '--form=wallet', '--date=2026-01-02']);
  assert.equal(new TextDecoder('latin1').decode(pdf.bytes.slice(0, 5)), '%PDF-');
  // A trap of the module stands in for a crash: no question is known that stops it. The second one
  // comes before another instance is at hand.
  const trap = () => { engine.exports = { ...engine.exports, ask() { throw new WebAssembly.RuntimeError('unreachable'); } }; };
  trap();
  const stopped = engine.ask(['list']);
  assert.ok(stopped.code === 3 && stopped.words.includes('a fresh one was started'));
  assert.equal(engine.ask(['convert', '-40C', '--to', 'F']).text, '-40C = -40 °F\n');
  trap();
  const again = engine.ask(['list']);
  assert.ok(again.code === 3 && again.words.includes('a fresh one is being started'));
  for (let waited = 0; engine.isDown && waited < 500; waited += 1) await new Promise((done) => { setTimeout(done, 10); });
  assert.equal(engine.ask(['convert', '-40C', '--to', 'F']).text, '-40C = -40 °F\n');
  assert.equal(engine.ask(['chart', 'R-32', '--format=html']).code, 0, 'without a date: no clock is asked');
  assert.match(engine.call('open', 'van.yaml\n- a').words, /^error: van\.yaml: holds no choices\nhint: a recipe is YAML/);
  const commands = new Map(JSON.parse(engine.call('forms', '').text).commands.map((one) => [one.name, one]));
  const chart = read('#chart?refrigerant=R-454B,R-32&form=wallet&blank&note=a%20b');
  assert.deepEqual(argumentsOf(chart, commands.get('chart')), ['chart', 'R-454B', 'R-32', '--form=wallet', '--blank', '--note=a b']);
  const opened = engine.call('open', `van.yaml\n${recipe(chart)}`).text.split('\n');
  assert.deepEqual(opened, ['chart', '--form=wallet', '--blank', '--note=a b', 'R-454B', 'R-32']);
  assert.equal(write(questionOf(opened, commands.get('chart'))), '#chart?refrigerants=R-454B,R-32&form=wallet&blank&note=a%20b');
  assert.deepEqual(read('#reading?x=+/-2F&%E0%A4%A'), { verb: 'reading', values: [['x', '+/-2F'], ['\uFFFD%A', '']] });
  assert.deepEqual(changed(read('#a?b=1&c=2&b=3'), 'b', '4'), read('#a?b=4&c=2'));
  assert.deepEqual(list('R-32, R-32/R-125 (50,50), R-290'), ['R-32', 'R-32/R-125 (50,50)', 'R-290']);
  assert.deepEqual(balanced([23, 25, 52], 0, 50), [50, 16.2, 33.8]);
  assert.equal(notation(['R-32', 'R-125', 'R-290'], [50, 0, 50]), 'R-32/R-290 (50/50)');
  console.log(`node: ${all.length} questions as the program, ${answered} of them answered`);
}

/** Twenty addresses, and what must be seen at each. */
const SEEN = [
  ['#saturation?refrigerant=R-407C&temperature=25C&pressure-unit=barg', 'barg'], ['#chart?refrigerant=R-454B&from=0C&to=20C&step=5C', 'R-454B'],
  ['#chart?refrigerants=R-454B,R-32&form=wallet&from=0C&to=20C&step=5C', 'R-32'], ['#glide?refrigerant=R-32/R-1234yf (50/50)&pressure=10bara', 'Why: the first vapor takes R-32'],
  ['#glide?refrigerant=R-407C&pressure=5bara', 'Why: the first vapor takes R-32 ahead of R-134a'], ['#glide?refrigerant=R-507A&pressure=5bara', 'Why hardly any glide'],
  ['#cycle?refrigerants=R-134a&evaporating=-10C&condensing=40C', 'COP, cooling'], ['#leak?refrigerant=R-407C&temperature=25C&lost=30%', 'superheat, read minus true'],
  ['#draw?refrigerant=R-407C&temperature=25C&filled=80%25&lost=30%25', 'R-407C'], ['#superheat?refrigerant=R-407C&pressure=65psig&line=52F', 'superheat'],
  ['#subcooling?refrigerant=R-407C&pressure=265psig&line=101F', 'subcooling'], ['#reading', 'R-407C, both sides'], ['#exercises?seed=7&count=4', 'Sheet 7'], ['#sources', 'This page'],
  ['#state?refrigerant=R-134a&temperature=20C&pressure=6bara', 'liquid'], ['#convert?value=70psig&to=bara', '5.83958 bara'], ['#list', 'R-454B'],
  ['#show?refrigerant=R-290', 'propane'], ['#exposure?refrigerant=R-32', 'LFL'], ['#saturation?refrigerant=R-32&temperature=5C&format=json', '"refrigerant": "R-32"'],
];
const BROKEN = [
  ['#nothing', "'nothing' is not a command", null], ['#saturation?refrigerant=R-4O7C&temperature=25C', "unknown refrigerant 'R-4O7C'", 'refrigerant'],
  ['#saturation?refrigerant=R-32&temperature=1e999C', 'is not a finite number', 'temperature'], ['#superheat?refrigerant=R-32&pressure=65psi&line=52F', 'does not say whether it is gauge', 'pressure'],
  ['#saturation?foo=1', "unexpected argument '--foo'", null], ['#%E0%A4%A?%', 'is not a command', null], ['#exercises?refrigerant=R-0&count=x', 'unknown refrigerant', null],
];

async function inBrowser(name, options) {
  const browser = await puppeteer.launch({ headless: true, ...options });
  const tab = await browser.newPage();
  const told = [];
  tab.on('console', (message) => { if (['error', 'warn', 'warning'].includes(message.type())) told.push(message.text()); });
  tab.on('pageerror', (error) => told.push(error.message));
  tab.on('request', (request) => { if (!/^(file|data|blob|about):/.test(request.url())) told.push(`request: ${request.url()}`); });
  // Lets a test stop the engine as a trap of the module would.
  await tab.evaluateOnNewDocument(() => {
    const real = WebAssembly.instantiate;
    WebAssembly.instantiate = async (...given) => {
      const { exports } = await real.apply(WebAssembly, given);
      const ask = () => {
        if (!globalThis.stopsNext) return exports.ask();
        globalThis.stopsNext = false;
        throw new WebAssembly.RuntimeError('unreachable');
      };
      return { exports: { ...exports, ask } };
    };
  });
  const at = pathToFileURL(page).href;
  const go = async (hash) => {
    // An address of the same file is no new page.
    await tab.goto('about:blank');
    await tab.goto(at + hash);
    await tab.waitForFunction(() => document.documentElement.dataset.ready && ['answer', 'problem', 'tools'].some((id) => document.getElementById(id).textContent !== ''), { timeout: 120000 });
  };
  const text = (id) => tab.$eval(`#${id}`, (element) => element.textContent);
  await tab.setViewport({ width: 320, height: 640 });
  for (const [hash, wanted] of SEEN) {
    await go(hash);
    const seen = (await text('answer')) + (await text('tools'));
    assert.ok(seen.includes(wanted), `${name} ${hash}: ${(await text('problem')) || seen.slice(0, 300)}`);
    // Where sliders stand, what they move is drawn: with a hazard's symbol above and without.
    const drawn = await tab.evaluate(() => [...document.querySelectorAll('#tools figure')].map((one) => one.querySelectorAll('polyline').length));
    assert.deepEqual(drawn.map((lines) => lines > 0), hash.startsWith('#glide') ? [true, true] : hash.startsWith('#cycle') ? [true] : [], `${name} ${hash}: ${drawn} lines`);
    const width = await tab.evaluate(() => document.documentElement.scrollWidth);
    assert.ok(width <= 320, `${name} ${hash}: ${width} px wide`);
    const small = await tab.evaluate(() => [...document.querySelectorAll('button, select, input, summary, nav a')]
      .filter((one) => one.getClientRects().length).filter((one) => one.getBoundingClientRect().height < 43.5).map((one) => one.outerHTML.slice(0, 90)));
    assert.deepEqual(small, [], `${name} ${hash}: lower than 44 px`);
    const nameless = await tab.evaluate(() => [...document.querySelectorAll('input, select')]
      .filter((one) => !one.labels?.length && !one.getAttribute('aria-label')).map((one) => one.outerHTML.slice(0, 90)));
    assert.deepEqual(nameless, [], `${name} ${hash}: without a name`);
    assert.match(await text('version'), /zeotrope \d.*page built \d{4}-\d\d-\d\d/);
  }
  for (const [hash, wanted, field] of BROKEN) {
    await go(hash);
    assert.ok((await text('problem')).includes(wanted), `${name} ${hash}: ${await text('problem')}`);
    if (field) assert.ok((await text(`field-${field}-problem`)).includes(wanted), `${name} ${hash}: not beside ${field}`);
  }
  await tab.setViewport({ width: 1280, height: 800 });
  // The same words as in a terminal, through the page.
  for (const args of questions().filter((one) => !one.includes('--format=csv')).filter((_, place) => place % 9 === 0).slice(0, 20)) {
    const here = await tab.evaluate((given) => globalThis.zeotrope.asked(given).text, args);
    assert.equal(here, asked(args).text, `${name}: ${args.join(' ')}`);
  }
  // A crash is told, and the next question answered.
  const stopped = await tab.evaluate(() => {
    globalThis.stopsNext = true;
    return globalThis.zeotrope.asked(['list']).words;
  });
  assert.ok(stopped.includes('a fresh one was started'));
  assert.equal(await tab.evaluate(() => globalThis.zeotrope.asked(['convert', '-40C', '--to', 'F']).text), '-40C = -40 °F\n');
  // A chart is its own page's main part alone; its name and hazards are printed too.
  await go('#chart?refrigerant=R-454B&from=0C&to=20C&step=5C');
  for (const media of ['screen', 'print']) {
    if (name === 'chromium') await tab.emulateMediaType(media);
    const face = await tab.$eval('#answer .face', (element) => ({ text: element.innerText.trim(), symbol: element.querySelector('svg').getBoundingClientRect().width }));
    assert.ok(face.text.startsWith('R-454B') && face.text.includes('flammable') && face.symbol > 10 && face.symbol < 60, `${name} ${media}: ${JSON.stringify(face)}`);
    assert.ok((await text('answer')).trim().startsWith('R-454B'), `${name}: ${(await text('answer')).slice(0, 80)}`);
  }
  if (name === 'chromium') await tab.emulateMediaType('screen');
  // A slider by the keyboard, and back.
  await go('#glide?refrigerant=R-32/R-1234yf (50/50)&pressure=10bara');
  await tab.focus('#tools input[type=range]');
  await tab.keyboard.press('ArrowRight');
  await tab.waitForFunction(() => decodeURIComponent(location.hash).includes('(50.5/49.5)'));
  await tab.goBack();
  await tab.waitForFunction(() => decodeURIComponent(location.hash).includes('(50/50)') && document.querySelector('#field-refrigerant').value.includes('(50/50)'));
  // A level of a cycle by the keyboard.
  await go('#cycle?refrigerants=R-134a&evaporating=-10C&condensing=40C');
  await tab.$eval('[data-level=condensing]', (level) => level.focus());
  await tab.keyboard.press('ArrowUp');
  await tab.waitForFunction(() => /condensing=[\d.]+bara/.test(location.hash));
  // Kept on the device, and forgotten.
  await go('#saturation?refrigerant=R-32&temperature=5C&elevation=1600m');
  await tab.focus('#field-temperature');
  await tab.keyboard.press('End');
  await tab.keyboard.press('Enter');
  await go('#saturation');
  await tab.waitForFunction(() => location.hash.includes('elevation=1600m'));
  assert.deepEqual(told, [], name);
  for (const scheme of ['light', 'dark']) {
    if (name !== 'chromium') continue;
    await tab.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: scheme }]);
    for (const [ink, paper] of [['--ink', '--paper'], ['--ink', '--soft'], ['--strong', '--paper'], ['--on-strong', '--strong'], ['--wrong', '--paper']]) {
      const colors = await tab.evaluate((names) => names.map((one) => getComputedStyle(document.documentElement).getPropertyValue(one).trim()), [ink, paper]);
      assert.ok(contrast(...colors) >= 4.5, `${scheme}: ${ink} on ${paper} ${contrast(...colors)}`);
    }
  }
  await browser.close();
  console.log(`${name}: ${SEEN.length} addresses, ${BROKEN.length} broken ones, keys, a crash; no request, no error`);
}

/** Contrast of two colors, WCAG 2.2 (relative luminance). */
function contrast(one, other) {
  const luminance = (color) => {
    const full = color.length === 4 ? [...color.slice(1)].map((digit) => digit + digit) : color.slice(1).match(/../g);
    const [r, g, b] = full.map((pair) => Number.parseInt(pair, 16) / 255).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const [light, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (light + 0.05) / (dark + 0.05);
}

if (!process.env.ONLY || process.env.ONLY === "node") await inNode();
if (!process.env.ONLY || process.env.ONLY === "chromium") await inBrowser('chromium', { executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
if (!process.env.ONLY || process.env.ONLY === "firefox") await inBrowser('firefox', { browser: 'firefox', executablePath: '/usr/bin/firefox-esr' });
