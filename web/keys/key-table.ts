/** Groups of the shortcut sheet. */
export type KeyGroup = 'Anywhere' | 'Listening' | 'Strip and figures' | 'Findings and stems' | 'Path';

interface KeyDeclaration {
  /** As it is written: `S`, `Shift P`, `Ctrl Z`, `Space`, `[`. On a Mac the command key does the work of Ctrl. */
  readonly key: string;
  readonly group: KeyGroup;
  readonly says: string;
  /** Whether it goes on while the key is held. */
  readonly repeats?: true;
}

/** Every action that a key does, with the key it has at first. No key has two meanings. */
export const KEY_TABLE = {
  play: { key: 'Space', group: 'Anywhere', says: 'play, pause' },
  swap: { key: 'S', group: 'Anywhere', says: 'swap source and treated, level-matched' },
  stems: { key: '1', group: 'Anywhere', says: 'sheet 1, stems' },
  findings: { key: '2', group: 'Anywhere', says: 'sheet 2, findings' },
  path: { key: '3', group: 'Anywhere', says: 'sheet 3, path' },
  proof: { key: '4', group: 'Anywhere', says: 'sheet 4, proof' },
  loop: { key: 'L', group: 'Anywhere', says: 'loop on, off' },
  'loop-from': { key: '<', group: 'Anywhere', says: 'loop starts at the listening place' },
  'loop-to': { key: '>', group: 'Anywhere', says: 'loop ends at the listening place' },
  softer: { key: ',', group: 'Anywhere', says: 'monitor 1\u00a0dB down', repeats: true },
  louder: { key: '.', group: 'Anywhere', says: 'monitor 1\u00a0dB up; a step for each press' },
  undo: { key: 'Ctrl Z', group: 'Anywhere', says: 'undo', repeats: true },
  redo: { key: 'Ctrl Shift Z', group: 'Anywhere', says: 'redo', repeats: true },
  'name-version': { key: 'Ctrl S', group: 'Anywhere', says: 'name this version' },
  print: { key: 'Ctrl Enter', group: 'Anywhere', says: 'print' },
  'open-folder': { key: 'Ctrl O', group: 'Anywhere', says: 'open a folder' },
  keys: { key: '?', group: 'Anywhere', says: 'this sheet' },
  close: { key: 'Esc', group: 'Anywhere', says: 'stop solving; close what is open' },

  listening: { key: 'U', group: 'Listening', says: 'draw the listening sheet up, put it down' },
  'next-part': { key: 'P', group: 'Listening', says: 'next part' },
  'part-before': { key: 'Shift P', group: 'Listening', says: 'the part before' },
  kick: { key: '5', group: 'Listening', says: 'the kick alone, everything again' },
  bass: { key: '6', group: 'Listening', says: 'the bass alone' },
  rest: { key: '7', group: 'Listening', says: 'the rest alone' },
  'low-lane': { key: '8', group: 'Listening', says: 'the low lane alone' },
  'high-lane': { key: '9', group: 'Listening', says: 'the high lane alone' },
  speaker: { key: 'R', group: 'Listening', says: 'next loudspeaker' },
  mono: { key: 'M', group: 'Listening', says: 'mono' },
  difference: { key: 'D', group: 'Listening', says: 'as it is, only what was taken or added' },
  reference: { key: 'F', group: 'Listening', says: 'next reference' },
  compare: { key: 'C', group: 'Listening', says: 'open the blind compare' },

  'place-before': { key: '[', group: 'Strip and figures', says: 'hit or note before', repeats: true },
  'place-after': { key: ']', group: 'Strip and figures', says: 'hit or note after', repeats: true },
  closer: { key: '+', group: 'Strip and figures', says: 'closer', repeats: true },
  farther: { key: '-', group: 'Strip and figures', says: 'farther off', repeats: true },
  'whole-song': { key: '0', group: 'Strip and figures', says: 'whole song' },

  'next-finding': { key: 'N', group: 'Findings and stems', says: 'next finding', repeats: true },
  'finding-before': { key: 'Shift N', group: 'Findings and stems', says: 'the finding before', repeats: true },
  hear: { key: 'H', group: 'Findings and stems', says: 'hear it, looped where it happens' },
  treat: { key: 'T', group: 'Findings and stems', says: 'treat' },
  leave: { key: 'K', group: 'Findings and stems', says: 'leave, with a reason' },
  later: { key: 'O', group: 'Findings and stems', says: 'put off' },
  table: { key: 'V', group: 'Findings and stems', says: 'evidence as a table' },
  'add-files': { key: 'A', group: 'Findings and stems', says: 'choose files' },

  solve: { key: 'W', group: 'Path', says: 'solve what is agreed to' },
  'by-hand': { key: 'E', group: 'Path', says: 'set by hand' },
  without: { key: 'B', group: 'Path', says: 'hear without this stage' },
  'stage-switch': { key: 'X', group: 'Path', says: 'stage off, on' },
  'stage-earlier': { key: '{', group: 'Path', says: 'stage earlier in its lane' },
  'stage-later': { key: '}', group: 'Path', says: 'stage later in its lane' },
} as const satisfies Readonly<Record<string, KeyDeclaration>>;

export type KeyAction = keyof typeof KEY_TABLE;
export const KEY_ACTIONS = Object.keys(KEY_TABLE) as readonly KeyAction[];

export function declaredKey(action: KeyAction): KeyDeclaration {
  return KEY_TABLE[action];
}

/** Keys that the platform and the figures hold for what has focus; no action can be put on them. */
export const HELD_KEYS: readonly { readonly keys: string; readonly says: string }[] = [
  { keys: '← → ↑ ↓', says: 'move within it: a beat or row, a stage or lane, a step of a value' },
  { keys: 'with Shift', says: 'further in a figure, finer in a value' },
  { keys: 'Enter', says: 'open it, read it out, take the value' },
  { keys: 'Backspace', says: 'a value: back to what was solved' },
  { keys: 'type', says: '1.2k, F#1, 3\u00a0dB, +0.5, 12\u00a0ms, 1/16' },
];

/** The blind compare's own keys: while it is open all others rest. */
export const COMPARE_KEYS: readonly { readonly keys: string; readonly says: string }[] = [
  { keys: 'A', says: 'play A' },
  { keys: 'B', says: 'play B' },
  { keys: 'X', says: 'play X' },
  { keys: '←', says: 'X is A' },
  { keys: '→', says: 'X is B' },
  { keys: 'Esc', says: 'close the compare' },
];
