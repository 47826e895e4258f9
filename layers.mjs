const everyCoreFolder = [
  ...['core/units', 'core/signal', 'core/dsp', 'core/audio-file', 'core/song', 'core/measure', 'core/findings'],
  ...['core/treatment', 'core/render', 'core/wishes', 'core/proof', 'core/solve', 'core/delivery', 'core/session'],
];

/**
 * Who may import what: the architecture as data. ESLint's import rule and the house test are made from this table, and a
 * permission that nothing uses fails the test too, so the table is always exactly the truth.
 * A folder may always import itself. `packages` are the run-time packages a folder may name.
 */
export const layers = {
  'core/units': { may: [] },
  'core/signal': { may: [] },
  'core/dsp': { may: ['core/units', 'core/signal'] },
  'core/audio-file': { may: ['core/units', 'core/signal', 'core/song'] },
  'core/song': { may: ['core/units', 'core/signal'] },
  'core/measure': { may: ['core/units', 'core/signal', 'core/dsp', 'core/song'] },
  'core/findings': { may: ['core/units', 'core/measure', 'core/song', 'core/treatment'] },
  'core/treatment': { may: ['core/units', 'core/signal', 'core/dsp', 'core/song'] },
  'core/render': { may: ['core/units', 'core/signal', 'core/dsp', 'core/treatment'] },
  'core/wishes': { may: ['core/units', 'core/measure'] },
  'core/proof': { may: ['core/units', 'core/signal', 'core/measure', 'core/wishes'] },
  'core/solve': {
    may: [
      'core/units',
      'core/signal',
      'core/dsp',
      'core/song',
      'core/measure',
      'core/findings',
      'core/treatment',
      'core/render',
      'core/wishes',
      'core/proof',
    ],
  },
  'core/delivery': {
    may: ['core/audio-file', 'core/song', 'core/treatment'],
  },
  'core/session': { may: ['core/units', 'core/song', 'core/treatment'], packages: ['zod'] },
  'core/job': { may: everyCoreFolder },
  demo: { may: ['core/units', 'core/signal', 'core/dsp'] },
  decoders: { may: ['core/units', 'core/audio-file'], packages: ['@wasm-audio-decoders/flac'] },
  node: { may: ['core/units', 'core/audio-file', 'core/job', 'decoders'], builtins: true },
  cli: {
    may: [
      'core/units',
      'core/signal',
      'core/audio-file',
      'core/delivery',
      'core/song',
      'core/measure',
      'core/findings',
      'core/treatment',
      'core/wishes',
      'core/proof',
      'core/solve',
      'core/job',
      'node',
      'demo',
    ],
    packages: ['commander'],
    builtins: true,
  },
  protocol: {
    may: [
      'core/units',
      'core/findings',
      'core/job',
      'core/measure',
      'core/session',
      'core/solve',
      'core/song',
      'core/treatment',
    ],
  },
  worklet: { may: ['core/dsp', 'core/signal', 'core/treatment', 'protocol'] },
  worker: {
    may: [
      'core/units',
      'core/signal',
      'core/dsp',
      'core/audio-file',
      'core/song',
      'core/measure',
      'core/findings',
      'core/treatment',
      'core/render',
      'core/solve',
      'core/session',
      'core/job',
      'decoders',
      'demo',
      'protocol',
    ],
    packages: ['fflate', '@noble/hashes'],
  },
  web: {
    may: [
      'core/units',
      'core/dsp',
      'core/delivery',
      'core/song',
      'core/measure',
      'core/findings',
      'core/treatment',
      'core/wishes',
      'core/proof',
      'core/solve',
      'core/session',
      'core/job',
      'protocol',
      'worklet',
    ],
    packages: ['react', 'react-dom', 'react-aria-components', 'd3-scale', 'idb'],
  },
};

/** Folders under the determinism rule: only `core/units/exact-math.ts` may compute transcendental functions. */
export const exactFolders = ['core', 'demo', 'worklet'];

/** Folders that know no host: no DOM, no Node, no clock, no randomness of the machine. */
export const hostFreeFolders = ['core', 'demo'];
