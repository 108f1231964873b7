// The rooms: which commands each answers, which fields stand in front, and an example to begin with.

import { glide } from './glide.js';
import { cycle } from './cycle.js';
import { leak } from './leak.js';
import { chart } from './chart.js';
import { sources } from './sources.js';

/** @typedef {import('./address.js').Question} Question */

/**
 * @typedef {object} Tools what a room has beside form and answer
 * @property {Node} element
 * @property {(question: Question) => void} update after each answer
 * @property {(question: Question) => void} [quick] while a slider moves
 *
 * @typedef {object} Asked one command of a room
 * @property {string[]} first
 * @property {[string, string][]} example
 *
 * @typedef {object} Room
 * @property {string} title
 * @property {string} about
 * @property {Record<string, Asked>} verbs
 * @property {(context: import('./main.js').Context) => Tools} [tools]
 */

const SITE = ['units', 'elevation'];
const KIT = ['gauge-accuracy', 'gauge-span', 'clamp-accuracy'];

/** @type {Record<string, Room>} */
export const ROOMS = {
  reading: {
    title: 'Reading',
    about: 'What gauge and thermometer read, and what it means. Each value has its unit: 65psig, 4.5barg, 52F, 11C.',
    verbs: {
      reading: {
        first: ['refrigerant', 'suction-pressure', 'suction-line', 'liquid-pressure', 'liquid-line', ...KIT, ...SITE],
        example: [['refrigerant', 'R-407C'], ['suction-pressure', '65psig'], ['suction-line', '52F'],
          ['liquid-pressure', '265psig'], ['liquid-line', '101F'], ['gauge-accuracy', '1%span'], ['gauge-span', '500psi'], ['clamp-accuracy', '1F']],
      },
      superheat: {
        first: ['refrigerant', 'pressure', 'line', ...KIT, ...SITE],
        example: [['refrigerant', 'R-407C'], ['pressure', '65psig'], ['line', '52F'], ['gauge-accuracy', '1%reading'], ['clamp-accuracy', '1F']],
      },
      subcooling: {
        first: ['refrigerant', 'pressure', 'line', ...KIT, ...SITE],
        example: [['refrigerant', 'R-407C'], ['pressure', '265psig'], ['line', '101F'], ['gauge-accuracy', '1%reading'], ['clamp-accuracy', '1F']],
      },
      saturation: {
        first: ['refrigerant', 'temperature', 'pressure', ...SITE],
        example: [['refrigerant', 'R-407C'], ['temperature', '25C'], ['pressure-unit', 'barg']],
      },
    },
  },
  chart: {
    title: 'Chart',
    about: 'Charts and cards for paper and screen.',
    verbs: {
      chart: {
        first: ['refrigerant', 'from', 'to', 'step', 'resolution', 'picture', 'form', 'paper', 'shop', ...SITE],
        example: [['refrigerant', 'R-454B,R-32'], ['from', '-40F'], ['to', '130F'], ['step', '10F']],
      },
    },
    tools: chart,
  },
  glide: {
    title: 'Glide',
    about: 'A blend of your own: why bubble and dew differ, and what that does along a coil.',
    verbs: {
      glide: {
        first: ['refrigerant', 'pressure', 'liquid', 'model', ...SITE],
        example: [['refrigerant', 'R-32/R-1234yf (50/50)'], ['pressure', '10bara'], ['model', 'ideal']],
      },
    },
    tools: glide,
  },
  cycle: {
    title: 'Cycle',
    about: 'A vapor-compression cycle, several refrigerants side by side. Drag the levels in the picture, or type.',
    verbs: {
      cycle: {
        first: ['refrigerant', 'evaporating', 'condensing', 'superheat', 'subcooling', 'efficiency', ...SITE],
        example: [['refrigerant', 'R-407C,R-410A'], ['evaporating', '0C'], ['condensing', '40C'], ['superheat', '5K'], ['subcooling', '3K'], ['efficiency', '70%']],
      },
    },
    tools: cycle,
  },
  leak: {
    title: 'Leak',
    about: 'What a loss does to a blend, and what readings by the listed card then miss by.',
    verbs: {
      leak: {
        first: ['refrigerant', 'temperature', 'lost', 'filled', 'phase', ...SITE],
        example: [['refrigerant', 'R-407C'], ['temperature', '25C'], ['filled', '80%'], ['lost', '30%']],
      },
      draw: {
        first: ['refrigerant', 'temperature', 'lost', 'filled', 'phase', ...SITE],
        example: [['refrigerant', 'R-407C'], ['temperature', '25C'], ['filled', '80%'], ['lost', '30%']],
      },
    },
    tools: leak,
  },
  exercises: {
    title: 'Exercises',
    about: 'Readings at random. An answer counts as right within the uncertainty of its reading.',
    verbs: {},
  },
  sources: {
    title: 'Sources',
    about: 'What a refrigerant rests on, the version of this page, and every other question it answers.',
    verbs: {
      show: { first: ['refrigerant', 'sources'], example: [['refrigerant', 'R-407C'], ['sources', '']] },
      list: { first: [], example: [] },
    },
    tools: sources,
  },
};

/** Examples of the questions that have no room of their own. @type {Record<string, [string, string][]>} */
export const EXAMPLES = {
  convert: [['value', '70psig'], ['to', 'bara']],
  state: [['refrigerant', 'R-134a'], ['temperature', '20C'], ['pressure', '6bara']],
};

/** The room in which a command is answered. @param {string} verb */
export function roomOf(verb) {
  if (verb in ROOMS) return verb;
  return Object.keys(ROOMS).find((name) => verb in ROOMS[name].verbs) ?? 'sources';
}
