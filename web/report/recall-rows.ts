import { declarationOf } from '../../core/treatment/stage-registry.js';
import type { SettingDeclaration } from '../../core/treatment/stage.js';
import type { SettingValue, Treatment } from '../../core/treatment/treatment.js';
import { sayNumberOf, sayValue } from '../fields/say-value.js';
import { stagesInOrder, type PathStage } from '../screens/path/path-stages.js';

/** One stage that is on, as it can be dialled again on any desk. */
export interface RecallRow {
  readonly number: number;
  /** Addresses of the stages that are set alike. */
  readonly keys: readonly string[];
  readonly stage: string;
  readonly place: string;
  /** Every setting, in words and units. */
  readonly set: string;
  /** Figures measured over the song that belong to it (a make-up, a mean). */
  readonly measured: string;
  /** When to take it out again. */
  readonly undoWhen: string;
}

/**
 * A row for every stage that is on, in the order of the path, made from the declarations alone. The same stage set alike at
 * several places is one row, so that the sheet stays one page.
 */
export function recallRows(treatment: Treatment): RecallRow[] {
  const rows: RecallRow[] = [];
  for (const stage of stagesInOrder(treatment).filter(({ instance }) => instance.on)) {
    const row = rowOf(stage, treatment, rows.length + 1);
    const alike = rows.findIndex(
      (one) => one.stage === row.stage && one.set === row.set && one.measured === row.measured,
    );
    if (alike < 0) rows.push(row);
    else rows[alike] = joined(rows[alike]!, row);
  }
  return rows;
}

/** More places than these are counted, so that twelve tracks do not fill the page with their names. */
const MOST_PLACES = 3;

function joined(one: RecallRow, other: RecallRow): RecallRow {
  const keys = [...one.keys, ...other.keys];
  const place =
    keys.length > MOST_PLACES
      ? one.place.replace(/( and \d+ more)?$/, ` and ${keys.length - MOST_PLACES} more`)
      : `${one.place}, ${other.place}`;
  return { ...one, keys, place };
}

function rowOf(stage: PathStage, treatment: Treatment, number: number): RecallRow {
  const { name, settings, help } = declarationOf(stage.address.stage);
  const said = settings.flatMap((setting) =>
    saySetting(setting, stage.instance.settings[setting.key], treatment.sampleRate_Hz),
  );
  return {
    number,
    keys: [stage.key],
    stage: name,
    place: placeOf(stage),
    set: said.join(', '),
    measured: measuredOf(stage, [treatment.hits.length, treatment.notes.length]),
    undoWhen: undoWhen(help),
  };
}

function placeOf({ address: { role, track, lane } }: PathStage): string {
  if (track !== null) return track.replace(/^.*\//, '');
  return lane === null ? `whole ${role}` : `${lane} lane`;
}

/** `delay 5.125 ms earlier (246 samples)`, `width 1 oct (Q 1.41)`, `ratio 3:1`, `linked`, `slope 12 dB/oct`. */
function saySetting(setting: SettingDeclaration, value: SettingValue | undefined, sampleRate_Hz: number): string[] {
  const { name, unit, kind } = setting;
  if (value === undefined) return [];
  if (kind === 'switch') return value === true ? [name] : [`no ${name}`];
  if (kind === 'choice') return [`${name} ${String(value)}${unit === '' ? '' : `\u00a0${unit}`}`];
  const number = Number(value);
  if (setting.key === 'ratio') return [`${name} ${sayNumberOf(number, unit)}:1`];
  if (unit === 'oct') return [`${name} ${sayValue(number, unit)} (Q\u00a0${sayNumberOf(qOfWidth(number), 'Q')})`];
  if (setting.key === 'delay_ms') return [sayDelay(number, sampleRate_Hz)];
  return [`${name} ${sayValue(number, unit)}`];
}

function sayDelay(delay_ms: number, sampleRate_Hz: number): string {
  if (delay_ms === 0) return 'no delay';
  const samples = sayNumberOf((Math.abs(delay_ms) * sampleRate_Hz) / 1000, 'samples');
  return `${sayValue(Math.abs(delay_ms), 'ms')} ${delay_ms < 0 ? 'earlier' : 'later'} (${samples} samples)`;
}

/** Q of a bell or band whose half-power points lie `width_oct` apart: sqrt(2^w) / (2^w - 1), RBJ Audio EQ Cookbook. */
export function qOfWidth(width_oct: number): number {
  const ratio = Math.pow(2, width_oct);
  return Math.sqrt(ratio) / (ratio - 1);
}

/** Single figures, and lists that hold one value for each hit or note. */
function measuredOf({ address, instance }: PathStage, lengths: readonly number[]): string {
  return declarationOf(address.stage)
    .figures.flatMap(({ key, unit }) => {
      const value = instance.figures[key];
      if (typeof value === 'number') return [`${wordsOf(key)} ${sayValue(value, unit)}`];
      if (!Array.isArray(value) || unit !== 'dB' || value.length === 0 || !lengths.includes(value.length)) return [];
      const most = Math.max(...(value as number[]).map(Math.abs));
      return [`${wordsOf(key)}: ${value.length} values, the largest ${sayValue(most, unit)}`];
    })
    .join('; ');
}

/** `makeUp_dB` as words: `make up`. */
function wordsOf(key: string): string {
  return key.replace(/_\w+$/, '').replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
}

/** What a declaration says after "leave it off". */
function undoWhen(help: string): string {
  return /leave it off (?:where|when) ([^.;]*)/i.exec(help)?.[1] ?? '';
}

/** Height of the sheet that is left to rows, and what a line of a row takes of it, in CSS pixels at the dense setting. */
const ROOM_px = 760;
const LINE_px = 14.5;
const PADDING_px = 5;

/** The rows that one page takes, by the lines that their words need; the others stand in the session file. */
export function rowsOnPage(rows: readonly RecallRow[]): readonly RecallRow[] {
  let left_px = ROOM_px;
  const end = rows.findIndex((row) => (left_px -= heightOf(row)) < 0);
  return end < 0 ? rows : rows.slice(0, end);
}

function heightOf({ place, set, measured, undoWhen }: RecallRow): number {
  const lines = (words: string, signs: number) => Math.ceil(words.length / signs);
  const told = measured === '' ? 0 : lines(measured, 50);
  const most = Math.max(1 + lines(place, 34), lines(set, 48) + told, lines(undoWhen, 26));
  return PADDING_px + LINE_px * most;
}
