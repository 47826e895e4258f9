import type { StageId, StageInstance, Treatment } from '../../../core/treatment/treatment.js';
import { sayValue } from '../../fields/say-value.js';
import { NO_POINT, type SongPoint } from './stages-at-point.js';
import type { WorkPlot } from './work-plot.js';

/** What a stage does to one hit, one note or one frequency, as a plot. Null where a stage has no picture of its own. */
export function stageAtWork(
  treatment: Treatment,
  instance: StageInstance,
  point: SongPoint = NO_POINT,
): WorkPlot | null {
  return PICTURES[instance.stage]?.(instance, treatment, point) ?? null;
}

type Picture = (instance: StageInstance, treatment: Treatment, point: SongPoint) => WorkPlot | null;

const PICTURES: Partial<Readonly<Record<StageId, Picture>>> = {
  'make-room': makeRoomAtWork,
  steady: steadyAtWork,
  harmonics: harmonicsAtWork,
  even: evenAtWork,
  saturate: saturateAtWork,
  centre: (instance) => filterAtWork('What is left of the side signal', centreGain(instance), 250),
  split: (instance) => splitAtWork(instance),
  clean: (instance) =>
    instance.settings['lowCut'] === true ? filterAtWork('What the low cut leaves', lowCutGain(instance), 250) : null,
  onset: onsetAtWork,
  align: alignAtWork,
};

function setting({ settings }: StageInstance, key: string): number {
  return Number(settings[key]);
}

function list({ figures }: StageInstance, key: string): readonly number[] {
  const figure = figures[key];
  return Array.isArray(figure) ? (figure as readonly number[]) : [];
}

const EASE = Array.from({ length: 9 }, (_, i) => i / 8);

/** A raised cosine from one level to another. */
function eased(from_x: number, to_x: number, from_y: number, to_y: number): [number, number][] {
  return EASE.map((share) => {
    const done = 0.5 - 0.5 * Math.cos(Math.PI * share);
    return [from_x + share * (to_x - from_x), from_y + done * (to_y - from_y)];
  });
}

/** The band of the bass over time around the hit that needs most, or by the setting where no hit list is used. */
function makeRoomAtWork(instance: StageInstance, { hits }: Treatment, { hit }: SongPoint): WorkPlot {
  const perHit = list(instance, 'cutPerHit_dB');
  const most = perHit.length > 0 ? perHit.reduce((a, b) => Math.max(a, b), 0) : setting(instance, 'cut_dB');
  const here = hit === null ? undefined : perHit[hit];
  const cut_dB = Math.min(setting(instance, 'cut_dB'), here ?? most);
  const which = here === undefined ? 'The hit that needs most' : `Hit ${hit! + 1} of ${hits.length}`;
  const [ahead, hold, back] = ['ahead_ms', 'hold_ms', 'return_ms'].map((key) => setting(instance, key)) as [
    number,
    number,
    number,
  ];
  const gain = [[-60, 0] as [number, number], ...eased(-ahead, 0, 0, -cut_dB), ...eased(hold, hold + back, -cut_dB, 0)];
  const end = Math.max(260, hold + back + 40);
  return {
    title: `${which}: the bass steps aside ${sayValue(cut_dB, 'dB')} at ${sayValue(Math.round(setting(instance, 'frequency_Hz')), 'Hz')}`,
    lines: [
      { points: [...gain, [end, 0]], ink: 'bass', width: 2.4, name: 'bass' },
      {
        points: [
          [0, 0.6],
          [0, -Math.max(3, Math.ceil(cut_dB) + 1)],
        ],
        ink: 'kick',
        width: 1.4,
        dash: [2, 3],
      },
    ],
    x: { name: 'from the hit', unit: 'ms' },
    y: { unit: 'dB', from: -Math.max(3, Math.ceil(cut_dB) + 1), to: 0.6 },
  };
}

/** The static curve: level in, level out, with the knee. */
function steadyAtWork(instance: StageInstance): WorkPlot {
  const [threshold, ratio, knee] = ['threshold_dBFS', 'ratio', 'knee_dB'].map((key) => setting(instance, key)) as [
    number,
    number,
    number,
  ];
  const out = (level: number): number => {
    const over = level - threshold;
    if (2 * over <= -knee) return level;
    if (2 * over >= knee) return threshold + over / ratio;
    return level + ((1 / ratio - 1) * (over + knee / 2) ** 2) / (2 * knee);
  };
  const levels = Array.from({ length: 61 }, (_, i) => -60 + i);
  return {
    title: 'Level in, level out, before make-up',
    lines: [
      {
        points: [
          [-60, -60],
          [0, 0],
        ],
        ink: 'ink-3',
        width: 1,
        dash: [2, 3],
      },
      { points: levels.map((level) => [level, out(level)]), ink: 'bass', width: 2.4 },
    ],
    marks: [{ x: threshold, y: out(threshold), filled: true }],
    x: { name: 'level in', unit: 'dBFS' },
    y: { unit: 'dBFS', from: -60, to: 0 },
  };
}

/** The longest note: its harmonics as they were, hollow, and as they are filled up. */
function harmonicsAtWork(instance: StageInstance, { notes }: Treatment, { note }: SongPoint): WorkPlot | null {
  const partials = list(instance, 'existingPartials_dB');
  const isKnown = (i: number): boolean => partials.length >= 4 * (i + 1);
  const read = note !== null && isKnown(note);
  const which = read ? note : longestNote(notes, isKnown);
  if (which === null) return null;
  const [first = 2, last = 5] = String(instance.settings['orders']).split('-').map(Number);
  const level = setting(instance, 'level_dB');
  const slope = setting(instance, 'slope_dB');
  const orders = [2, 3, 4, 5];
  const before = orders.map((_, k) => Math.max(-60, partials[4 * which + k]!));
  const after = orders.map((order, k) =>
    order >= first && order <= last ? Math.max(before[k]!, level - slope * (order - 2)) : before[k]!,
  );
  return {
    title: `${read ? 'The note that is read' : 'The longest note'}, ${Math.round(notes[which]!.frequency_Hz)}\u00a0Hz: only what is missing is added`,
    lines: [],
    uprights: [
      { x: 1, y: 0, ink: 'bass', width: 1.5 },
      ...orders.map((order, k) => ({ x: order, y: before[k]!, ink: 'bass' as const, width: 1.5 })),
      ...orders.map((order, k) => ({ x: order, y: after[k]!, from: before[k]!, ink: 'bass' as const, width: 4 })),
    ],
    marks: [
      ...orders.map((order, k) => ({ x: order, y: before[k]!, filled: false })),
      ...orders.flatMap((order, k) => (after[k]! > before[k]! ? [{ x: order, y: after[k]!, filled: true }] : [])),
    ],
    x: { name: 'harmonic', unit: '', ticks: [1, 2, 3, 4, 5] },
    y: { unit: 'dB', from: -60, to: 0 },
  };
}

function longestNote(notes: Treatment['notes'], known: (i: number) => boolean): number | null {
  let best: number | null = null;
  notes.forEach(({ start_s, end_s }, i) => {
    if (known(i) && (best === null || end_s - start_s > notes[best]!.end_s - notes[best]!.start_s)) best = i;
  });
  return best;
}

/** Every note's ride, in the order of the song. */
function evenAtWork(instance: StageInstance, { notes }: Treatment): WorkPlot | null {
  const key = instance.settings['which'] === 'all' ? 'noteDeviation_dB' : 'pitchDeviation_dB';
  const deviations = list(instance, key);
  if (deviations.length === 0 || deviations.length !== notes.length) return null;
  const depth = setting(instance, 'depth_percent') / 100;
  const most = setting(instance, 'maxRide_dB');
  const rides = deviations.map((deviation) => Math.max(-most, Math.min(most, -depth * deviation)));
  const reach = Math.max(2, Math.ceil(Math.max(...rides.map(Math.abs))));
  return {
    title: 'What each note is moved by',
    lines: [
      {
        points: [
          [0, 0],
          [notes[notes.length - 1]!.end_s, 0],
        ],
        ink: 'rule-strong',
        width: 1,
      },
    ],
    uprights: rides.map((ride, i) => ({ x: notes[i]!.start_s, y: ride, from: 0, ink: 'bass' as const, width: 1.6 })),
    x: { name: 'song', unit: 's' },
    y: { unit: 'dB', from: -reach, to: reach },
  };
}

/** One period of a loud note, before and after, level-matched at its peak. */
function saturateAtWork(instance: StageInstance): WorkPlot {
  const drive = 10 ** (setting(instance, 'drive_dB') / 20);
  const bias = setting(instance, 'bias');
  const mix = setting(instance, 'mix_percent') / 100;
  const shape = (u: number): number => u / Math.sqrt(1 + u * u);
  const peak = shape(drive * (1 + bias)) - shape(drive * bias);
  const phases = Array.from({ length: 73 }, (_, i) => 5 * i);
  const dry = (degrees: number): number => Math.sin((degrees * Math.PI) / 180);
  const wet = (degrees: number): number => {
    const rounded = (shape(drive * (dry(degrees) + bias)) - shape(drive * bias)) / peak;
    return (1 - mix) * dry(degrees) + mix * rounded;
  };
  return {
    title: 'One period at the loud level of the lane',
    lines: [
      { points: phases.map((at) => [at, dry(at)]), ink: 'ink-3', width: 1, dash: [2, 3] },
      { points: phases.map((at) => [at, wet(at)]), ink: 'bass', width: 2.4 },
    ],
    x: { name: 'phase', unit: '°', ticks: [0, 90, 180, 270, 360] },
    y: { unit: '', from: -1.2, to: 1.2 },
  };
}

const FREQUENCIES = Array.from({ length: 61 }, (_, i) => 10 * 100 ** (i / 60));

function filterAtWork(title: string, gain_dB: (frequency_Hz: number) => number, to_Hz: number): WorkPlot {
  const inside = FREQUENCIES.filter((frequency) => frequency <= 2 * to_Hz);
  return {
    title,
    lines: [{ points: inside.map((frequency) => [frequency, gain_dB(frequency)]), ink: 'bass', width: 2.4 }],
    x: {
      name: 'frequency',
      unit: 'Hz',
      log: true,
      ticks: [10, 20, 50, 100, 200, 500].filter((tick) => tick <= 2 * to_Hz),
    },
    y: { unit: 'dB', from: -24, to: 3 },
  };
}

/** Magnitude of a Linkwitz-Riley low pass of 24 dB/oct: 1 / (1 + (f/fc)^4). */
function lowPass(frequency_Hz: number, corner_Hz: number, order = 4): number {
  return 1 / (1 + (frequency_Hz / corner_Hz) ** order);
}

function centreGain(instance: StageInstance) {
  const amount = setting(instance, 'amount_percent') / 100;
  const corner = setting(instance, 'corner_Hz');
  return (frequency: number): number => 20 * Math.log10(Math.max(1e-3, 1 - amount * lowPass(frequency, corner)));
}

function lowCutGain(instance: StageInstance) {
  const corner = setting(instance, 'corner_Hz');
  const order = instance.settings['slope_dBperOct'] === '24' ? 8 : 4; // Butterworth: |H|^2 = 1 / (1 + (fc/f)^2N)
  return (frequency: number): number => -10 * Math.log10(1 + (corner / frequency) ** order);
}

function splitAtWork(instance: StageInstance): WorkPlot {
  const corner = setting(instance, 'corner_Hz');
  const order = setting(instance, 'slope_dBperOct') / 6;
  const dB = (gain: number): number => 20 * Math.log10(Math.max(1e-3, gain));
  return {
    ...filterAtWork('The two lanes; together they are the bass', () => 0, 500),
    lines: [
      { points: FREQUENCIES.map((f) => [f, dB(lowPass(f, corner, order))]), ink: 'bass', width: 2.4 },
      { points: FREQUENCIES.map((f) => [f, dB(1 - lowPass(f, corner, order))]), ink: 'bass', width: 1.2 },
    ],
  };
}

function onsetAtWork(instance: StageInstance): WorkPlot {
  const [gain, hold, back] = ['gain_dB', 'hold_ms', 'return_ms'].map((key) => setting(instance, key)) as [
    number,
    number,
    number,
  ];
  return {
    title: 'The first moments of every note',
    lines: [
      {
        points: [[-20, 0], [0, 0], [0, gain], [hold, gain], ...eased(hold, hold + back, gain, 0), [200, 0]],
        ink: 'bass',
        width: 2.4,
      },
    ],
    x: { name: 'from the onset', unit: 'ms' },
    y: { unit: 'dB', from: Math.min(0, gain - 1), to: Math.max(3, gain + 1) },
  };
}

/** Where the track stands against where it stood. */
function alignAtWork(instance: StageInstance): WorkPlot {
  const delay = setting(instance, 'delay_ms');
  const sign = instance.settings['polarity'] === 'inverted' ? -1 : 1;
  const reach = Math.max(6, Math.ceil(Math.abs(delay) * 1.6));
  const pulse = (from: number, to: number): [number, number][] => [
    [-reach, 0],
    [from, 0],
    [from, to],
    [from, 0],
    [reach, 0],
  ];
  return {
    title:
      delay === 0
        ? 'Where the track stands'
        : `${sayValue(Math.abs(delay), 'ms')} ${delay < 0 ? 'earlier' : 'later'} than it came`,
    lines: [
      { points: pulse(0, 1), ink: 'ink-3', width: 1.2, dash: [2, 3] },
      { points: pulse(delay, sign), ink: 'bass', width: 2.4 },
    ],
    x: { name: 'time', unit: 'ms' },
    y: { unit: '', from: -1, to: 1 },
  };
}
