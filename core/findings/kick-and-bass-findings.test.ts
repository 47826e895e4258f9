import assert from 'node:assert/strict';
import { test } from 'node:test';
import { measureAgreement } from '../measure/agreement.js';
import { measureCentre } from '../measure/centre.js';
import { measureClearance } from '../measure/clearance.js';
import type { Measurements } from '../measure/measurements.js';
import type { Knowledge, SongSound, Track } from '../measure/song-sound.js';
import { measureTrackAlignments } from '../measure/track-alignment.js';
import { monoSignal, type StereoSignal } from '../signal/stereo-signal.js';
import type { Note, Role, Stem } from '../song/song.js';
import { cancellingLows } from './cancelling-lows.js';
import { coveredKick } from './covered-kick.js';
import type { FindingDeclaration } from './finding-declaration.js';
import { findFaults, type Faults } from './find-faults.js';
import { misalignedMics } from './misaligned-mics.js';
import { wideLows } from './wide-lows.js';

const rate = 8_000;
const seconds = 12;
const hitTimes = Array.from({ length: 20 }, (_, i) => 0.3 + 0.55 * i);
const none = { kind: 'unmeasurable', reason: 'not needed here' } as const;
const declarations: readonly FindingDeclaration[] = [coveredKick, cancellingLows, misalignedMics, wideLows];

/** Bass notes as the test plays them: one under every hit. */
interface Line {
  readonly frequency_Hz: (note: number) => number;
  readonly level_dB: (note: number) => number;
  /** Phase at the hit, in cycles. */
  readonly phase: (note: number) => number;
}

function kickSamples(delay_s = 0): Float64Array {
  const samples = new Float64Array(seconds * rate);
  for (const time_s of hitTimes) {
    const start = (time_s + delay_s) * rate;
    for (let n = Math.ceil(start); n < start + 0.3 * rate; n++) {
      const t = (n - start) / rate;
      const phase = 52 * t + 104 * 0.012 * (1 - Math.exp(-t / 0.012));
      const click = 0.2 * Math.exp(-t / 0.003) * Math.sin(2 * Math.PI * 1100 * t);
      samples[n]! += Math.min(1, t / 0.001) * (Math.exp(-t / 0.09) * Math.sin(2 * Math.PI * phase) + click);
    }
  }
  return samples;
}

function bassSamples(line: Line, delay_s = 0): Float64Array {
  const samples = new Float64Array(seconds * rate);
  hitTimes.forEach((time_s, i) => {
    const gain = 10 ** (line.level_dB(i) / 20);
    const start = (time_s + delay_s) * rate;
    for (let n = Math.ceil(start); n < start + 0.5 * rate; n++) {
      const t = (n - start) / rate;
      let sum = 0;
      for (let h = 1; h <= 6; h++) sum += Math.sin(2 * Math.PI * h * (line.frequency_Hz(i) * t + line.phase(i))) / h;
      samples[n]! += gain * sum * Math.min(1, t / 0.003) * Math.min(1, (0.5 - t) / 0.01);
    }
  });
  return samples;
}

/** Phase that changes from note to note as in a played part, so that nothing is locked. */
const played = (i: number): number => 0.618 * i;
const fifthAbove: Line = { frequency_Hz: () => 78, level_dB: () => -15, phase: played };
const sound = bassSamples(fifthAbove);
const kick = kickSamples();

interface Song {
  readonly kick: StereoSignal | null;
  readonly bass: StereoSignal | null;
  readonly rest?: StereoSignal;
  readonly bassTracks?: readonly Track[];
  readonly notes?: readonly Note[];
  readonly hits?: number;
}

function faultsOf({
  kick: kickSide,
  bass,
  rest = undefined,
  bassTracks = [],
  notes = [],
  hits = hitTimes.length,
}: Song): Faults {
  const tracks = { kick: [], bass: bassTracks, rest: [] };
  const song: SongSound = {
    sampleRate_Hz: rate,
    frameCount: seconds * rate,
    kick: kickSide,
    bass,
    rest: rest ?? null,
    tracks,
  };
  const known: Knowledge = {
    hits: hitTimes.slice(0, hits).map((time_s) => ({ time_s, level_dBFS: -12 })),
    notes,
    tempo_bpm: none,
    fundamental_Hz: none,
    decay_ms: none,
  };
  const measured: Measurements = {
    known,
    clearance: measureClearance(song, known),
    agreement: measureAgreement(song, known),
    trackAlignments: measureTrackAlignments(song, known),
    centre: measureCentre(song),
    evenness: none,
    carry: none,
    headroom: none,
    stemLows: [],
  };
  return findFaults(measured, [stem('Kick.wav', 'kick'), stem('Bass DI.wav', 'bass')], declarations);
}

function stem(file: string, role: Role): Stem {
  return {
    file,
    role,
    because: '',
    confidence: 1,
    channels: 1,
    bitDepth: '24',
    sampleRate_Hz: rate,
    frameCount: seconds * rate,
    duration_s: seconds,
    start_samples: 0,
    faults: [],
  };
}

const mono = (samples: Float64Array): StereoSignal => monoSignal(samples, rate);
const idsOf = (faults: Faults): string[] => faults.findings.map(({ id }) => id);

test('a song without the faults draws none, and what was looked for is said', () => {
  const faults = faultsOf({ kick: mono(kick), bass: mono(sound) });
  assert.deepEqual(idsOf(faults), []);
  assert.deepEqual(faults.lookedForAndNotThere, ['covered kick', 'cancelling lows', 'wide lows']);
  assert.deepEqual(faults.unjudged, [{ id: 'misaligned-mics', reason: 'no role has more than one file' }]);
});

function notesOf(line: Line): Note[] {
  return hitTimes.map((start_s, i) => ({
    start_s,
    end_s: start_s + 0.5,
    frequency_Hz: line.frequency_Hz(i),
    level_dBFS: -12,
    harmonics_dB: [],
    fundamentalMissing: false,
    curve_Hz: null,
    curveStep_s: 0,
  }));
}

/** The first `count` notes on the kick's pitch and 6 dB over the level that leaves a hit at +2; the others a fifth up. */
const covering = (count: number): Line => ({
  frequency_Hz: (i) => (i < count ? 52.156 : 78),
  level_dB: (i) => (i < count ? 0 : -15),
  phase: played,
});

test('covered kick: silent under a fifth of the hits, there from a fifth on, worse with more', () => {
  const severities = [3, 4, 8, 12].map((count) => {
    const line = covering(count);
    const faults = faultsOf({ kick: mono(kick), bass: mono(bassSamples(line)), notes: notesOf(line) });
    assert.deepEqual(idsOf(faults), count < 4 ? [] : ['covered-kick'], `${count} covered`);
    const [finding] = faults.findings;
    if (finding === undefined) return -1;
    assert.equal(finding.where.hits_s.length, count);
    assert.ok(Math.abs(finding.where.bands_Hz[0]! - 53) < 3.2);
    assert.ok(finding.sentence.startsWith(`The bass covers the body of the kick on ${count} of 20\u00a0hits.`));
    assert.match(finding.sentence, /All of them fall on G#1\./);
    assert.equal(finding.suggest.wish, 'clearance.share2dB >= 90 %');
    return finding.severity;
  });
  assert.deepEqual(
    severities.map((value) => Number(value.toFixed(3))),
    [-1, 0, 1, 2],
  );
});

test('covered kick: a bass too loud for a cut is said so, and the expected share counts it', () => {
  const line: Line = { ...covering(10), level_dB: (i) => (i < 10 ? 8 : -15) };
  const [finding] = faultsOf({ kick: mono(kick), bass: mono(bassSamples(line)) }).findings;
  assert.match(finding!.sentence, /too loud on 10\u00a0hits/);
  assert.deepEqual(finding!.suggest.expected, { value: 50, unit: '%', basis: 'estimate' });
});

test('covered kick: three hits are too few to judge', () => {
  const line = covering(20);
  const faults = faultsOf({ kick: mono(kick), bass: mono(bassSamples(line)), hits: 3 });
  assert.deepEqual(idsOf(faults), []);
  assert.ok(faults.unjudged.some(({ id, reason }) => id === 'covered-kick' && reason.startsWith('too few hits')));
});

/** A bass on the kick's settled pitch, locked to it, so far behind that they meet at the given phase. */
const locked = (delay_s: number): Float64Array =>
  bassSamples({ frequency_Hz: () => 52, level_dB: () => -6, phase: () => 0 }, delay_s);

test('cancelling lows: there where kick and bass are locked against each other, gone where they are locked together', () => {
  const faults = faultsOf({ kick: mono(kick), bass: mono(locked(0.006)) });
  const finding = faults.findings.find(({ id }) => id === 'cancelling-lows')!;
  assert.ok(finding.severity > 0);
  const { delay_ms, polarity } = finding.suggest.settings as { delay_ms: number; polarity: string };
  const mended = locked(0.006 + delay_ms / 1000).map((value) => (polarity === 'inverted' ? -value : value));
  const after = faultsOf({ kick: mono(kick), bass: mono(mended) });
  assert.ok(!idsOf(after).includes('cancelling-lows'));
  assert.ok(after.lookedForAndNotThere.includes('cancelling lows'));
});

test('cancelling lows: a loss without a common mend is no finding and is not called absent', () => {
  // Half the notes lock against the kick by half a period, half by a quarter early or late: no single shift helps
  const line: Line = { frequency_Hz: () => 52, level_dB: () => -6, phase: (i) => [0.62, 0.12, 0.37, 0.87][i % 4]! };
  const faults = faultsOf({ kick: mono(kick), bass: mono(bassSamples(line)) });
  assert.ok(!idsOf(faults).includes('cancelling-lows'));
  assert.ok(
    faults.unjudged.some(({ id, reason }) => id === 'cancelling-lows' && reason.includes('common to all hits')),
  );
});

function twoTracks(delay_s: number, polarity: 1 | -1): Song {
  const late = bassSamples(fifthAbove, delay_s).map((value) => polarity * value);
  const bassTracks = [
    { file: 'Bass DI.wav', signal: mono(sound) },
    { file: 'Bass "Amp".wav', signal: mono(late) },
  ];
  return { kick: mono(kick), bass: mono(sound.map((value, n) => 0.5 * (value + late[n]!))), bassTracks };
}

test('misaligned mics: silent in step, there when late or upside down, with the settings that put it right', () => {
  const alignmentOf = (song: Song) => faultsOf(song).findings.filter(({ id }) => id === 'misaligned-mics');
  assert.deepEqual(alignmentOf(twoTracks(0, 1)), []);
  assert.deepEqual(alignmentOf(twoTracks(0.0002, 1)), []);
  const [late] = alignmentOf(twoTracks(0.0039, 1));
  assert.match(
    late!.sentence,
    /^Bass "Amp"\.wav runs 3\.9\u00a0ms behind Bass DI\.wav; together they lose \d+\.\d\u00a0dB/,
  );
  assert.equal(late!.suggest.address, 'bass["Bass \\"Amp\\".wav"].align');
  assert.ok(Math.abs((late!.suggest.settings['delay_ms'] as number) + 3.9) < 0.05);
  assert.equal(late!.suggest.settings['polarity'], 'normal');
  const [inverted] = alignmentOf(twoTracks(0, -1));
  assert.match(inverted!.sentence, /is upside down against/);
  assert.equal(inverted!.suggest.settings['polarity'], 'inverted');
  assert.equal(inverted!.severity, 3);
});

/** Left and right of the given correlation: a second bass in quadrature (a quarter of a period of each partial). */
function widened(rho: number): StereoSignal {
  const quadrature = bassSamples({ ...fifthAbove, phase: (i) => played(i) + 0.25 });
  const side = Math.sqrt(1 - rho * rho);
  return { left: sound, right: sound.map((value, n) => rho * value + side * quadrature[n]!), sampleRate_Hz: rate };
}

test('wide lows: silent under 1 dB of loss, there above, growing with the width; a mono kick beside it is left alone', () => {
  const severities = [0.9, 0.7, 0.4, 0, -0.4].map((rho) => {
    const faults = faultsOf({ kick: mono(kick), bass: widened(rho) });
    const [finding] = faults.findings;
    const loss_dB = -10 * Math.log10((1 + rho) / 2);
    assert.deepEqual(idsOf(faults), loss_dB > 1 ? ['wide-lows'] : [], `${rho}`);
    if (finding === undefined) return 0;
    assert.equal(finding.suggest.address, 'bass.centre');
    assert.ok(Math.abs((finding.evidence['foldDownLoss_dB'] as number) - loss_dB) < 0.2);
    assert.equal(/work against each other/.test(finding.sentence), rho < -0.2);
    assert.equal('turn' in finding.suggest.settings, rho < -0.2);
    return finding.severity;
  });
  for (let i = 2; i < severities.length - 1; i++) assert.ok(severities[i]! > severities[i - 1]!, `${severities}`);
});

test('wide lows: off centre is said as off centre', () => {
  const bass = { left: sound.map((value) => 0.1 * value), right: sound, sampleRate_Hz: rate } as StereoSignal;
  const [finding] = faultsOf({ kick: mono(kick), bass }).findings;
  assert.match(finding!.sentence, /^The lows of the bass stand off centre by 20\.0\u00a0dB, to the right; /);
});

test('wide lows: a wide rest counts only where its lows matter', () => {
  const wide = widened(0);
  const at = (gain: number): Faults => {
    const rest = {
      left: wide.left.map((v) => gain * v),
      right: wide.right.map((v) => gain * v),
      sampleRate_Hz: rate,
    } as StereoSignal;
    return faultsOf({ kick: mono(kick), bass: mono(sound), rest });
  };
  assert.deepEqual(idsOf(at(0.01)), []);
  const [finding] = at(0.7).findings.filter(({ id }) => id === 'wide-lows');
  assert.equal(finding!.evidence['part'], 'rest');
  assert.equal(finding!.suggest.stage, 'none');
});

test('without a kick or a bass nothing is claimed absent', () => {
  const faults = faultsOf({ kick: null, bass: mono(sound) });
  assert.deepEqual(faults.lookedForAndNotThere, ['wide lows']);
  assert.ok(faults.unjudged.some(({ reason }) => reason === 'no kick among the stems'));
});

test('every sentence carries true minus signs and no-break spaces before units', () => {
  const line = covering(20);
  const songs: Song[] = [
    { kick: mono(kick), bass: mono(bassSamples(line)) },
    { kick: mono(kick), bass: mono(locked(0.006)) },
    { kick: mono(kick), bass: widened(0) },
    twoTracks(0.0039, 1),
  ];
  for (const { sentence } of songs.flatMap((song) => faultsOf(song).findings)) {
    assert.doesNotMatch(sentence, /\d (dB|Hz|ms|hits?)\b|(^|\s)-\d/, sentence);
    assert.match(sentence, /\.$/);
  }
});
