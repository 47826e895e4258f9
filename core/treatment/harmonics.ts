import type { StateTape } from '../dsp/state-tape.js';
import { DelayLine } from '../dsp/delay-line.js';
import { lockIn, type PhaseTrack } from '../dsp/lock-in.js';
import { raisedCosine } from '../dsp/raised-cosine.js';
import { SmoothValue } from '../dsp/smooth-value.js';
import { flushed, TICK } from '../dsp/stereo-unit.js';
import type { Note } from '../song/song.js';
import { dB_to_amplitude } from '../units/decibels.js';
import { cosCycles, sinCycles } from '../units/exact-math.js';
import {
  LOWEST_FUNDAMENTAL_Hz,
  LOWEST_HARMONIC_Hz,
  lockInHalf,
  notePhase,
  ORDERS,
  shortfallAmplitude,
  shortfallPhase_cycles,
  targetAmplitude,
} from './harmonics-plan.js';
import { figureAt, settingChoice, settingNumber } from './setting-reader.js';
import type { SettingDeclaration, StageContext, StageDeclaration, StageUnit } from './stage.js';
import type { StageInstance } from './treatment.js';

const level: SettingDeclaration = {
  key: 'level_dB',
  name: 'level',
  unit: 'dB',
  kind: 'number',
  min: -40,
  max: -6,
  scale: 'linear',
  default: -18,
  help: 'Where the second harmonic should stand under the fundamental; only what is missing is added. -18 to -12 dB is usual.',
};
const slope: SettingDeclaration = {
  key: 'slope_dB',
  name: 'slope',
  unit: 'dB',
  kind: 'number',
  min: 0,
  max: 12,
  scale: 'linear',
  default: 3,
  help: 'How much lower each further harmonic stands. 3 dB carries; 6 dB is duller and needs 4 to 6 dB more level.',
};
const orders: SettingDeclaration = {
  key: 'orders',
  name: 'orders',
  unit: '',
  kind: 'choice',
  choices: ['2-5', '3-5', '2-4', '2-3'],
  default: '2-5',
  help: 'Which harmonics are filled up. 3 to 5 carry on small loudspeakers, 2 makes the pair that names the pitch.',
};

const GATE_IN_ms = 10;
const GATE_OUT_ms = 15;
/** Real and imaginary part for each of the four orders. */
const PER_NOTE = 2 * ORDERS.length;
const SLOTS = 8;

function latencySamples(sampleRate_Hz: number): number {
  return Math.ceil((1.5 * sampleRate_Hz) / LOWEST_FUNDAMENTAL_Hz) + TICK;
}

/** The fundamental's complex amplitude at two neighbouring points of the grid, for one note. */
class Slot {
  note = -1;
  grid = 0;
  readonly near = new Float64Array(2);
  readonly far = new Float64Array(2);

  passState(tape: StateTape): void {
    this.note = tape.value(this.note);
    this.grid = tape.value(this.grid);
    tape.array(this.near);
    tape.array(this.far);
  }
}

class Harmonics implements StageUnit {
  readonly latencySamples: number;
  // Parameters, and what is derived from them: what each note adds, per order, re its fundamental
  private level_dB = -18;
  private slope_dB = 3;
  private orders = '2-5';
  private current: Float64Array;
  private next: Float64Array;
  private pending: Float64Array;
  private hasPending = false;
  private fading = false;
  private silent = true;
  private pendingSilent = true;
  private readonly fade = new SmoothValue(0);
  // What is derived from the notes
  private readonly tracks: readonly PhaseTrack[];
  private readonly halves: Float64Array;
  private readonly starts: Float64Array;
  private readonly ends: Float64Array;
  private readonly gateIn: number;
  private readonly gateOut: number;
  // State
  private readonly dry: DelayLine;
  private readonly ring: Float64Array;
  private readonly mask: number;
  private readonly slots: readonly Slot[] = Array.from({ length: SLOTS }, () => new Slot());
  private position = 0;
  private cursor = 0;
  // Work space
  private readonly added = new Float64Array(TICK);
  private readonly shares = new Float64Array(TICK);

  constructor(
    private readonly notes: readonly Note[],
    private readonly sampleRate_Hz: number,
  ) {
    this.latencySamples = latencySamples(sampleRate_Hz);
    this.current = new Float64Array(PER_NOTE * notes.length);
    this.next = new Float64Array(PER_NOTE * notes.length);
    this.pending = new Float64Array(PER_NOTE * notes.length);
    this.tracks = notes.map((note) => notePhase(note, sampleRate_Hz));
    this.halves = Float64Array.from(notes, (note) => lockInHalf(note, sampleRate_Hz));
    this.starts = Float64Array.from(notes, (note) => note.start_s * sampleRate_Hz);
    this.ends = Float64Array.from(notes, (note) => note.end_s * sampleRate_Hz);
    this.gateIn = (GATE_IN_ms * sampleRate_Hz) / 1000;
    this.gateOut = (GATE_OUT_ms * sampleRate_Hz) / 1000;
    this.dry = new DelayLine(this.latencySamples);
    let size = 1;
    while (size < 2 * this.latencySamples + 4 * TICK + 2 * this.gateOut) size *= 2;
    this.ring = new Float64Array(size);
    this.mask = size - 1;
  }

  configure(instance: StageInstance, atOnce: boolean): void {
    this.level_dB = settingNumber(instance, level, this.level_dB);
    this.slope_dB = settingNumber(instance, slope, this.slope_dB);
    this.orders = settingChoice(instance, orders, this.orders);
    this.plan(instance);
    if (atOnce) {
      this.takePendingAtOnce();
      this.fading = false;
    } else {
      this.hasPending = true;
    }
  }

  /** What each note adds: the shortfall of each order, as real and imaginary part. */
  private plan(instance: StageInstance): void {
    const { pending, notes } = this;
    const first = this.orders === '3-5' ? 3 : 2;
    const last = this.orders === '2-3' ? 3 : this.orders === '2-4' ? 4 : 5;
    this.pendingSilent = true;
    for (let i = 0; i < notes.length; i++) {
      const left = notes[i]!.fundamentalMissing || figureAt(instance, 'leaveOut', i, 0) !== 0;
      for (let k = 0; k < ORDERS.length; k++) {
        const order = k + 2;
        const harmonic_Hz = order * notes[i]!.frequency_Hz;
        const fits = harmonic_Hz >= LOWEST_HARMONIC_Hz && harmonic_Hz < 0.45 * this.sampleRate_Hz;
        const at = PER_NOTE * i + 2 * k;
        pending[at] = 0;
        pending[at + 1] = 0;
        if (!instance.on || left || !fits || order < first || order > last) continue;
        const target = targetAmplitude(this.level_dB, this.slope_dB, order);
        const existing = dB_to_amplitude(figureAt(instance, 'existingPartials_dB', 4 * i + k, -120));
        const there_cycles = figureAt(instance, 'existingPhases_cycles', 4 * i + k, 0);
        const amplitude = shortfallAmplitude(target, existing);
        const phase_cycles = shortfallPhase_cycles(target, existing, there_cycles, order);
        pending[at] = amplitude * cosCycles(phase_cycles);
        pending[at + 1] = amplitude * sinCycles(phase_cycles);
        if (amplitude > 0) this.pendingSilent = false;
      }
    }
  }

  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    const { ring, mask, added } = this;
    for (let i = 0; i < frameCount; i++) ring[(this.position + i) & mask] = flushed(0.5 * (left[i]! + right[i]!));
    const start = this.position - this.latencySamples;
    this.position += frameCount;
    this.dry.process(left, right, frameCount);
    if (this.hasPending && !this.fading) this.startFade();
    if (this.silent && !this.fading) return;
    this.fade.fill(this.shares, frameCount);
    added.fill(0);
    this.playNotes(start, frameCount);
    for (let i = 0; i < frameCount; i++) {
      left[i] = left[i]! + added[i]!;
      right[i] = right[i]! + added[i]!;
    }
    if (this.fading && this.fade.settled) this.endFade();
  }

  private playNotes(start: number, frameCount: number): void {
    const { starts, ends, gateOut } = this;
    while (this.cursor < starts.length && ends[this.cursor]! + gateOut < start) this.cursor += 1;
    for (let note = this.cursor; note < starts.length && starts[note]! < start + frameCount; note++) {
      if (ends[note]! + gateOut >= start) this.playNote(note, start, frameCount);
    }
  }

  private playNote(note: number, start: number, frameCount: number): void {
    const { current, next, shares, added, gateIn, gateOut } = this;
    const from = this.starts[note]!;
    const end = this.ends[note]!;
    const track = this.tracks[note]!;
    const slot = this.slots[note % SLOTS]!;
    const base = PER_NOTE * note;
    for (let i = 0; i < frameCount; i++) {
      const at = start + i;
      const gate = raisedCosine((at - from) / gateIn) * (1 - raisedCosine((at - end) / gateOut));
      if (gate === 0) continue;
      const grid = Math.floor(at / TICK);
      if (slot.note !== note || slot.grid !== grid) this.lockOn(slot, note, grid);
      const share = at / TICK - grid;
      const zRe = slot.near[0]! + share * (slot.far[0]! - slot.near[0]!);
      const zIm = slot.near[1]! + share * (slot.far[1]! - slot.near[1]!);
      const size = Math.sqrt(zRe * zRe + zIm * zIm);
      if (!(size > 1e-12)) continue;
      const cycles = track.cycles(at);
      const cos = cosCycles(cycles);
      const sin = sinCycles(cycles);
      const wRe = (cos * zRe - sin * zIm) / size;
      const wIm = (sin * zRe + cos * zIm) / size;
      let re = wRe;
      let im = wIm;
      let sum = 0;
      const fade = shares[i]!;
      for (let k = base; k < base + PER_NOTE; k += 2) {
        const turned = re * wRe - im * wIm;
        im = re * wIm + im * wRe;
        re = turned;
        const c = current[k]! + fade * (next[k]! - current[k]!);
        const s = current[k + 1]! + fade * (next[k + 1]! - current[k + 1]!);
        sum += c * re - s * im;
      }
      added[i] = added[i]! + gate * size * sum;
    }
  }

  /** The fundamental at this point of the grid and the next; the window's centre stays inside the note. */
  private lockOn(slot: Slot, note: number, grid: number): void {
    if (slot.note === note && slot.grid === grid - 1) {
      slot.near[0] = slot.far[0]!;
      slot.near[1] = slot.far[1]!;
    } else {
      this.lockAt(note, grid * TICK, slot.near);
    }
    this.lockAt(note, (grid + 1) * TICK, slot.far);
    slot.note = note;
    slot.grid = grid;
  }

  private lockAt(note: number, sample: number, z: Float64Array): void {
    const first = this.starts[note]!;
    const last = this.ends[note]!;
    const centre = sample < first ? first : sample > last ? last : sample;
    lockIn(this.ring, this.mask, this.tracks[note]!, 1, centre, this.halves[note]!, first, last, z);
  }

  private startFade(): void {
    const old = this.next;
    this.next = this.pending;
    this.pending = old;
    this.hasPending = false;
    this.fading = true;
    this.fade.set(0, true);
    this.fade.set(1, false);
  }

  private endFade(): void {
    const old = this.current;
    this.current = this.next;
    this.next = old;
    this.fading = false;
    this.fade.set(0, true);
    this.silent = allZero(this.current);
  }

  private takePendingAtOnce(): void {
    const old = this.current;
    this.current = this.pending;
    this.pending = old;
    this.hasPending = false;
    this.fade.set(0, true);
    this.silent = this.pendingSilent;
  }

  seek(songSample: number): void {
    this.reset();
    this.position = songSample;
  }

  reset(): void {
    if (this.fading) this.endFade();
    if (this.hasPending) this.takePendingAtOnce();
    this.dry.reset();
    this.ring.fill(0);
    for (let i = 0; i < SLOTS; i++) this.slots[i]!.note = -1;
    this.position = 0;
    this.cursor = 0;
  }

  passState(tape: StateTape): void {
    this.dry.passState(tape);
    tape.array(this.ring);
    for (let i = 0; i < SLOTS; i++) this.slots[i]!.passState(tape);
    this.position = tape.value(this.position);
    this.cursor = tape.value(this.cursor);
  }

  flush(): void {
    return;
  }
}

function allZero(values: Float64Array): boolean {
  for (let i = 0; i < values.length; i++) if (values[i] !== 0) return false;
  return true;
}

export const harmonics: StageDeclaration = {
  id: 'harmonics',
  name: 'harmonics',
  help:
    'Fills up the second to fifth harmonic of the note being played, a voice per note locked to its fundamental, so that the ' +
    'line is heard on small loudspeakers. Leave it off where the bass has its harmonics, or where the backing covers it anyway.',
  source: 'own; lock-in detection of the fundamental, measured for this project',
  settings: [level, slope, orders],
  figures: [
    {
      key: 'existingPartials_dB',
      unit: 'dB',
      help: 'Per note, orders 2 to 5: the partial that is there already, re the fundamental.',
    },
    {
      key: 'existingPhases_cycles',
      unit: 'cycles',
      help: 'Per note, orders 2 to 5: its phase against the same power of the fundamental’s phasor.',
    },
    {
      key: 'leaveOut',
      unit: '',
      help: 'Per note: 1 where the fundamental is missing, so there is nothing to lock on.',
    },
  ],
  wish: {
    statistic: 'carry.laptop_LU',
    name: 'carry on a small loudspeaker',
    unit: 'LU',
    source: 'file',
    default: '>= -14',
    help: 'How much of the bass is left on a laptop, against the whole mix.',
  },
  linear: false,
  latencySamples,
  create: (context: StageContext) => new Harmonics(context.notes, context.sampleRate_Hz),
};
