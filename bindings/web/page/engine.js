// The engine: the compiled module, asked as a shell would ask the program.

/**
 * What the program would have written.
 * @typedef {object} Reply
 * @property {number} code 0 answered, 1 no answer, 2 wrong usage, 3 the engine stopped
 * @property {Uint8Array} bytes standard output
 * @property {string} text the same as text
 * @property {string} words standard error: errors, hints, warnings
 */

const decoder = new TextDecoder();
const encoder = new TextEncoder();

export class Engine {
  /** @param {WebAssembly.Module} module */
  constructor(module) {
    this.module = module;
    /** @type {any} */
    this.exports = null;
    /** @type {any} A fresh instance, at hand should the first one stop. */
    this.spare = null;
    /** Whether one stopped before the next was at hand: the next takes its place. */
    this.isDown = false;
    this.stops = 0;
  }

  /**
   * @param {BufferSource} bytes
   * @returns {Promise<Engine>}
   */
  static async from(bytes) {
    const engine = new Engine(await WebAssembly.compile(bytes));
    engine.exports = await engine.fresh();
    await engine.prepare();
    return engine;
  }

  async fresh() {
    return (await WebAssembly.instantiate(this.module, {})).exports;
  }

  /** @returns {Promise<void>} */
  async prepare() {
    const made = await this.fresh();
    if (!this.isDown) {
      this.spare = made;
      return;
    }
    this.exports = made;
    this.isDown = false;
    await this.prepare();
  }

  /**
   * Hands a text over and calls an export of the module.
   * @param {'ask' | 'open' | 'forms' | 'axes'} name
   * @param {string} text
   * @returns {Reply}
   */
  call(name, text) {
    const question = encoder.encode(text);
    try {
      const exports = this.exports;
      const at = exports.room(question.length);
      new Uint8Array(exports.memory.buffer, Number(at >> 32n), question.length).set(question);
      const code = exports[name]() ?? 0;
      const bytes = this.read(exports.answer());
      return { code, bytes, text: decoder.decode(bytes), words: decoder.decode(this.read(exports.words())) };
    } catch (problem) {
      if (!(problem instanceof WebAssembly.RuntimeError) && !(problem instanceof RangeError)) throw problem;
      this.stops += 1;
      const started = this.spare ? 'was started' : 'is being started';
      if (this.spare) {
        this.exports = this.spare;
        this.spare = null;
        this.prepare();
      } else this.isDown = true;
      const words = `error: the engine stopped at this question; a fresh one ${started}\n`
        + 'hint: other questions are answered as before; please report this one with its address\n';
      return { code: 3, bytes: new Uint8Array(), text: '', words };
    }
  }

  /**
   * A copy of bytes in the module's memory: its place is gone with the next question.
   * @param {bigint} place
   */
  read(place) {
    const [at, length] = [Number(place >> 32n), Number(place & 0xffffffffn)];
    return new Uint8Array(this.exports.memory.buffer, at, length).slice();
  }

  /**
   * Asks as a shell would.
   * @param {string[]} args the program's arguments
   */
  ask(args) {
    return this.call('ask', args.map((one) => one.replaceAll('\n', ' ')).join('\n'));
  }

  /** @param {string[]} args */
  json(args) {
    const reply = this.ask([...args, '--format=json']);
    return reply.code === 0 ? JSON.parse(reply.text) : null;
  }
}
