import type { Knowledge, SongSound } from '../../core/measure/song-sound.js';
import { measureSong, type Measurements } from '../../core/measure/measurements.js';
import { renderStage } from '../../core/render/render-stage.js';
import type { StereoSignal } from '../../core/signal/stereo-signal.js';
import type { Hit, Note } from '../../core/song/song.js';
import type { StagePlace } from '../../core/solve/stage-solver.js';
import { defaultInstance } from '../../core/treatment/stage.js';
import { declarationOf } from '../../core/treatment/stage-registry.js';
import { parseAddress } from '../../core/treatment/paths.js';
import type { SettingValue } from '../../core/treatment/treatment.js';
import type { Wish } from '../../core/wishes/wish.js';
import { knowledgeOf } from './measurements-of.js';

/** A song of which a solver sees one stage. */
export interface PlaceSetUp {
  readonly kick?: StereoSignal;
  readonly bass: StereoSignal;
  readonly rest?: StereoSignal;
  readonly hits?: readonly Hit[];
  readonly notes?: readonly Note[];
  /** What reaches the stage; the bass where nothing is said. */
  readonly input?: StereoSignal;
  readonly wish?: Wish;
  readonly settings?: Readonly<Record<string, SettingValue>>;
  /** Keys of `settings` that a hand or a finding gave. */
  readonly given?: readonly string[];
  readonly strength?: number;
}

/** The place of one stage as the walk makes it, its sound rendered by the engine. */
export function stagePlace(text: string, setUp: PlaceSetUp): StagePlace {
  const { address } = parseAddress(text);
  const { bass, kick = null, rest = null, hits = [], notes = [], input = bass } = setUp;
  const { sampleRate_Hz } = bass;
  const source: SongSound = {
    sampleRate_Hz,
    frameCount: bass.left.length,
    kick,
    bass,
    rest,
    tracks: {
      kick: kick === null ? [] : [{ file: 'Kick.wav', signal: kick }],
      bass: [{ file: 'Bass.wav', signal: bass }],
      rest: [],
    },
  };
  const known: Knowledge = knowledgeOf({ hits, notes });
  return {
    address,
    song: { source, known, measured: measuredOnDemand(source, known) },
    settings: { ...defaultInstance(declarationOf(address.stage)).settings, ...setUp.settings },
    figures: {},
    given: new Set(setUp.given ?? []),
    wish: setUp.wish ?? null,
    strength: setUp.strength ?? 1,
    input,
    kick,
    bassWith: (output) => output,
    searched: () => Promise.resolve(false),
    render: (instance, on) => {
      const context = { sampleRate_Hz, notes: on?.notes ?? notes, hits: on?.hits ?? hits };
      const heard = { signal: on?.input ?? input, firstSongSample: 0 };
      const { signal, meter_dB } = renderStage(instance, heard, context, on === undefined ? kick : null);
      return Promise.resolve({ output: signal, meter_dB });
    },
  };
}

/** Solvers of single stages do not read the whole measurement; it is made only where one does. */
function measuredOnDemand(source: SongSound, known: Knowledge): Measurements {
  let made: Measurements | null = null;
  return new Proxy({} as Measurements, {
    get: (_, key) => (made ??= measureSong(source, known))[key as keyof Measurements],
  });
}
