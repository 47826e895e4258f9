import type { Note } from '../song/song.js';
import { CurveGainUnit } from './curve-gain-unit.js';
import { evenGain_dB } from './even-gains.js';
import { figureAt, settingChoice, settingNumber } from './setting-reader.js';
import type { SettingDeclaration, StageContext, StageDeclaration } from './stage.js';
import type { StageInstance } from './treatment.js';

const which: SettingDeclaration = {
  key: 'which',
  name: 'which notes',
  unit: '',
  kind: 'choice',
  choices: ['pitches', 'all'],
  default: 'pitches',
  help: 'Ride only the pitches that ring or die on this instrument, or every note. Pitches is usual: it leaves the playing alone.',
};
const depth: SettingDeclaration = {
  key: 'depth_percent',
  name: 'depth',
  unit: '%',
  kind: 'number',
  min: 0,
  max: 100,
  scale: 'linear',
  default: 100,
  help: 'How much of each deviation is taken back. 100 % puts a ringing pitch level with its neighbours.',
};
const maxRide: SettingDeclaration = {
  key: 'maxRide_dB',
  name: 'largest ride',
  unit: 'dB',
  kind: 'number',
  min: 0,
  max: 12,
  scale: 'linear',
  default: 6,
  help: 'No note is moved by more than this. 6 dB is usual, 9 dB for a note that dies away.',
};
const fade: SettingDeclaration = {
  key: 'fade_ms',
  name: 'cross-fade',
  unit: 'ms',
  kind: 'number',
  min: 20,
  max: 30,
  scale: 'linear',
  default: 25,
  help: 'Time in which the gain passes from one note to the next. It ends 2 ms before the next onset, so no attack is touched.',
};

/** The gain stands still from this long before an onset. */
const LEAD_ms = 2;

class Even extends CurveGainUnit {
  private whichNotes = 'pitches';
  private depth_percent = 100;
  private maxRide_dB = 6;
  private fade_ms = 25;

  constructor(
    private readonly notes: readonly Note[],
    private readonly sampleRate_Hz: number,
  ) {
    super(notes.length);
  }

  configure(instance: StageInstance, atOnce: boolean): void {
    this.whichNotes = settingChoice(instance, which, this.whichNotes);
    this.depth_percent = settingNumber(instance, depth, this.depth_percent);
    this.maxRide_dB = settingNumber(instance, maxRide, this.maxRide_dB);
    this.fade_ms = settingNumber(instance, fade, this.fade_ms);
    this.compile(instance);
    this.curve.commit(atOnce);
  }

  private compile(instance: StageInstance): void {
    const { curve, notes, sampleRate_Hz } = this;
    let previous_dB = instance.on ? this.noteGain_dB(instance, 0) : 0;
    curve.begin(previous_dB);
    if (!instance.on) return;
    const length = (this.fade_ms * sampleRate_Hz) / 1000;
    const lead = (LEAD_ms * sampleRate_Hz) / 1000;
    for (let i = 1; i < notes.length; i++) {
      const gain_dB = this.noteGain_dB(instance, i);
      if (gain_dB === previous_dB) continue;
      // Where notes follow each other faster than the fade, it begins at the note before.
      const end = notes[i]!.start_s * sampleRate_Hz - lead;
      const earliest = notes[i - 1]!.start_s * sampleRate_Hz;
      const start = end - length > earliest ? end - length : earliest;
      curve.move(start, end - start, gain_dB);
      previous_dB = gain_dB;
    }
  }

  private noteGain_dB(instance: StageInstance, note: number): number {
    const key = this.whichNotes === 'all' ? 'noteDeviation_dB' : 'pitchDeviation_dB';
    return evenGain_dB(figureAt(instance, key, note, 0), this.depth_percent / 100, this.maxRide_dB);
  }
}

export const even: StageDeclaration = {
  id: 'even',
  name: 'even',
  help:
    'Rides the notes that ring or die on this instrument, from the note list: the gain is set before the note begins and ' +
    'stands still while it sounds, so nothing pumps. Leave it off where the levels are the player’s own shading.',
  source: 'own; gain curve measured for this project',
  settings: [which, depth, maxRide, fade],
  figures: [
    {
      key: 'pitchDeviation_dB',
      unit: 'dB',
      help: 'Per note: how far its pitch stands out where that pitch is resonant or dead, else 0.',
    },
    { key: 'noteDeviation_dB', unit: 'dB', help: 'Per note: its own deviation from the line of all notes.' },
  ],
  wish: {
    statistic: 'evenness.spread_dB',
    name: 'spread of note levels',
    unit: 'dB',
    source: 'lane',
    default: '<= 3',
    help: 'Level between the softest and the loudest tenth of the notes. 3 dB sits in a mix.',
  },
  linear: true,
  latencySamples: () => 0,
  create: (context: StageContext) => new Even(context.notes, context.sampleRate_Hz),
};
