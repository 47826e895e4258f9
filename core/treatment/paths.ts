import type { Hit, Note } from '../song/song.js';
import { PlainError } from '../units/plain-error.js';
import { hasWork } from './lane-paths.js';
import { turnCornerOf } from './split.js';
import { declarationOf, hasStage } from './stage-registry.js';
import { defaultInstance } from './stage.js';
import type { RolePath, StageAddress, StageId, StageInstance, TreatedRole, Treatment } from './treatment.js';

/** Which stages stand where in a role's path, in the signal's order. */
interface Places {
  readonly track: readonly StageId[];
  readonly bus: readonly StageId[];
  readonly low: readonly StageId[];
  readonly high: readonly StageId[];
}

const BASS_BUS: readonly StageId[] = ['align', 'clean', 'even', 'centre', 'split', 'join', 'trim', 'make-room'];

/** The default paths; a stage that is not in the registry is left out. */
export const PLACES: Readonly<Record<TreatedRole, Places>> = {
  kick: places({ track: ['align', 'clean'], bus: ['align', 'clean', 'shape', 'trim'], low: [], high: [] }),
  bass: places({
    track: ['align', 'clean'],
    bus: BASS_BUS,
    low: ['steady', 'harmonics', 'saturate'],
    high: ['widen', 'onset', 'saturate'],
  }),
  rest: places({ track: ['clean'], bus: [], low: [], high: [] }),
};

function places(all: Places): Places {
  return {
    track: all.track.filter(hasStage),
    bus: all.bus.filter(hasStage),
    low: all.low.filter(hasStage),
    high: all.high.filter(hasStage),
  };
}

export interface TreatmentGround {
  readonly sampleRate_Hz: number;
  readonly notes: readonly Note[];
  readonly hits: readonly Hit[];
  /** Files of each role, in the order in which their sound will be given. */
  readonly files: Readonly<Record<TreatedRole, readonly string[]>>;
}

/** Every stage in its place, off, with default settings: it changes nothing. */
export function defaultTreatment(ground: TreatmentGround): Treatment {
  const { sampleRate_Hz, notes, hits, files } = ground;
  return {
    format: 'keelson-treatment',
    version: 1,
    sampleRate_Hz,
    notes,
    hits,
    kick: defaultPath('kick', files.kick),
    bass: defaultPath('bass', files.bass),
    rest: defaultPath('rest', files.rest),
  };
}

function defaultPath(role: TreatedRole, files: readonly string[]): RolePath {
  const { track, bus, low, high } = PLACES[role];
  return {
    tracks: files.map((file) => ({ file, stages: track.map(fresh) })),
    stages: bus.map(fresh),
    lanes: { low: low.map(fresh), high: high.map(fresh) },
  };
}

function fresh(id: StageId): StageInstance {
  return defaultInstance(declarationOf(id));
}

/** `bass.low.saturate.drive_dB`, `kick.clean`, `bass["Bass Amp.wav"].align.delay_ms`: file names as JSON strings. */
export function formatAddress(address: StageAddress, key?: string): string {
  const track = address.track === null ? '' : `[${JSON.stringify(address.track)}]`;
  const lane = address.lane === null ? '' : `.${address.lane}`;
  return `${address.role}${track}${lane}.${address.stage}${key === undefined ? '' : `.${key}`}`;
}

/**
 * Reads an address, with or without a setting's key.
 * @throws PlainError saying what is wrong with it.
 */
export function parseAddress(text: string): { readonly address: StageAddress; readonly key: string | null } {
  const role = /^(kick|bass|rest)(?=[.[])/.exec(text)?.[1] as TreatedRole | undefined;
  if (role === undefined) throw badAddress(text, 'does not begin with kick, bass or rest.');
  const { track, rest } = trackIn(text, text.slice(role.length));
  const parts = rest.split('.').slice(1);
  const lane = parts[0] === 'low' || parts[0] === 'high' ? parts[0] : null;
  const [stage, key = null, ...more] = lane === null ? parts : parts.slice(1);
  if (stage === undefined || stage === '' || more.length > 0 || key === '') throw badAddress(text, 'names no stage.');
  if (!hasStage(stage as StageId)) throw badAddress(text, `names a stage that is not known: ${stage}.`);
  const address: StageAddress = { role, track, lane, stage: stage as StageId };
  const { settings } = declarationOf(address.stage);
  if (key !== null && !settings.some((setting) => setting.key === key)) {
    throw badAddress(text, `names a setting that ${stage} does not have: ${key}.`);
  }
  return { address, key };
}

function trackIn(text: string, after: string): { track: string | null; rest: string } {
  if (!after.startsWith('[')) return { track: null, rest: after };
  const quoted = /^\[("(?:[^"\\]|\\.)*")\]/.exec(after)?.[1];
  if (quoted === undefined) throw badAddress(text, 'has a file name that is not in ["..."].');
  try {
    return { track: JSON.parse(quoted) as string, rest: after.slice(quoted.length + 2) };
  } catch {
    throw badAddress(text, 'has a file name that cannot be read.');
  }
}

function badAddress(text: string, reason: string): PlainError {
  return new PlainError(
    `address ${text}`,
    reason,
    'Write for instance bass.low.saturate.drive_dB or kick.clean.corner_Hz.',
  );
}

/** @returns the instance at an address, or null where there is none. */
export function stageAt(treatment: Treatment, address: StageAddress): StageInstance | null {
  return listAt(treatment[address.role], address)?.find((instance) => instance.stage === address.stage) ?? null;
}

function listAt(role: RolePath, address: StageAddress): readonly StageInstance[] | undefined {
  if (address.track !== null) return role.tracks.find((track) => track.file === address.track)?.stages;
  return address.lane === null ? role.stages : role.lanes[address.lane];
}

/**
 * The treatment with another instance at an address. What belongs together goes along: a lane stage that is on switches the
 * split on, and a linked low cut is the same on the buses of kick and bass.
 * @throws PlainError where no such stage stands there.
 */
export function withStage(treatment: Treatment, address: StageAddress, instance: StageInstance): Treatment {
  const replaced = replacedAt(treatment, address, instance);
  if (address.lane !== null && instance.on) return withSwitch(replaced, { ...address, lane: null, stage: 'split' });
  if (address.stage === 'clean' && address.track === null && instance.settings['linked'] === true) {
    return withLinkedCut(replaced, address.role, instance);
  }
  return replaced;
}

function replacedAt(treatment: Treatment, address: StageAddress, instance: StageInstance): Treatment {
  if (stageAt(treatment, address) === null) {
    throw new PlainError(
      `address ${formatAddress(address)}`,
      'has no stage in this treatment.',
      'Check role, file and lane.',
    );
  }
  const swap = (list: readonly StageInstance[]) => list.map((old) => (old.stage === address.stage ? instance : old));
  const role = treatment[address.role];
  const { track, lane } = address;
  const changed: RolePath =
    track !== null
      ? { ...role, tracks: role.tracks.map((one) => (one.file === track ? { ...one, stages: swap(one.stages) } : one)) }
      : lane !== null
        ? { ...role, lanes: { ...role.lanes, [lane]: swap(role.lanes[lane]) } }
        : { ...role, stages: swap(role.stages) };
  return { ...treatment, [address.role]: changed };
}

function withSwitch(treatment: Treatment, address: StageAddress): Treatment {
  const old = stageAt(treatment, address);
  return old === null ? treatment : replacedAt(treatment, address, { ...old, on: true });
}

const LINKED_KEYS = ['lowCut', 'corner_Hz', 'slope_dBperOct', 'linked'];

function withLinkedCut(treatment: Treatment, role: TreatedRole, instance: StageInstance): Treatment {
  if (role === 'rest') return treatment;
  const other: StageAddress = { role: role === 'kick' ? 'bass' : 'kick', track: null, lane: null, stage: 'clean' };
  const old = stageAt(treatment, other);
  if (old === null) return treatment;
  const linked = Object.fromEntries(LINKED_KEYS.map((key) => [key, instance.settings[key] ?? old.settings[key]!]));
  return replacedAt(treatment, other, { ...old, on: instance.on, settings: { ...old.settings, ...linked } });
}

/**
 * Whether anything is done to a role: where not, its files are copied byte for byte. A recursive split of the bass turns the
 * kick too.
 */
export function isTreated(treatment: Treatment, role: TreatedRole): boolean {
  const { tracks, stages, lanes } = treatment[role];
  const on = (list: readonly StageInstance[]) => list.some((instance) => instance.on && instance.stage !== 'split');
  if (on(stages) || on(lanes.low) || on(lanes.high) || tracks.some((track) => on(track.stages))) return true;
  return role === 'kick' && kickTurnCorner_Hz(treatment) > 0;
}

/** Whether each file of a role may be printed by itself: everything that is on in its path is linear. */
export function isLinear(treatment: Treatment, role: TreatedRole): boolean {
  const { tracks, stages, lanes } = treatment[role];
  return [...tracks.flatMap((track) => track.stages), ...stages, ...lanes.low, ...lanes.high].every(
    (instance) => !instance.on || declarationOf(instance.stage).linear,
  );
}

/** Corner of the all-pass that a recursive split puts on the bass, and therefore on the kick; 0 for none. */
export function kickTurnCorner_Hz(treatment: Treatment): number {
  const { stages, lanes } = treatment.bass;
  for (let i = 0; i + 1 < stages.length; i++) {
    if (stages[i]!.stage !== 'split') continue;
    return hasWork(stages[i + 1]!, lanes) ? turnCornerOf(stages[i]!) : 0;
  }
  return 0;
}
