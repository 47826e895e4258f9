import { levelMatch, type LevelMatch } from '../core/measure/level-match.js';
import type { SongSound } from '../core/measure/song-sound.js';
import { renderLaneExcerpt } from '../core/render/render-lane-excerpt.js';
import { renderSong } from '../core/render/render-song.js';
import { sliceOf, sumOf, type StereoSignal } from '../core/signal/stereo-signal.js';
import type { WalkResult } from '../core/solve/path-walk.js';
import { isTreated } from '../core/treatment/paths.js';
import type { TreatedRole, Treatment } from '../core/treatment/treatment.js';
import { withAllOff } from '../core/treatment/with-all-off.js';
import { unmeasurable, type Unmeasurable } from '../core/units/reading.js';
import type { HeardPart } from '../protocol/heard-part.js';
import { joinedPieces, matchStretches, type Stretch } from './match-stretches.js';

/** What is heard by itself, and what was done to it. */
export interface MatchQuestion {
  /** With single tracks of the rest only where the rest is treated. */
  readonly sound: SongSound;
  readonly treatment: Treatment;
  readonly part: HeardPart;
  /** Kick and bass as this very treatment leaves them, over the whole song, where solving has kept them; else it is rendered. */
  readonly whole: Pick<WalkResult, 'kick' | 'bass'> | null;
}

const PRE_ROLL_S = 1;

/** The gain that makes a part as loud treated as it came: measured over the whole song where its sound is at hand. */
export function partMatch(question: MatchQuestion): LevelMatch | Unmeasurable {
  const { sound, treatment, part } = question;
  const roles = rolesOf(part);
  const sources = roles.map((role) => sound[role]).filter((signal) => signal !== null);
  if (sources.length === 0) return unmeasurable(`no ${part} among the stems`);
  const scope = part === 'all' || part === 'rest' ? 'whole mix' : 'part';
  if (roles.every((role) => !isTreated(treatment, role))) return untouched(scope);
  const lane = part === 'low lane' ? 'low' : part === 'high lane' ? 'high' : null;
  const { whole } = question;
  if (lane === null && whole !== null && !(roles.includes('rest') && isTreated(treatment, 'rest'))) {
    const treated = roles.map((role) => (role === 'rest' ? sound.rest : whole[role])).filter((bus) => bus !== null);
    return levelMatch(sumOf(sources)!, sumOf(treated)!, scope);
  }
  const stretches = matchStretches(sources, sound.frameCount, sound.sampleRate_Hz);
  const joined = (piece: (stretch: Stretch) => StereoSignal) => joinedPieces(stretches.map(piece), sound.sampleRate_Hz);
  const before = lane === null ? sourcePiece(sound, roles) : lanePiece(sound, withAllOff(treatment), lane);
  const after = lane === null ? treatedPiece(question, roles) : lanePiece(sound, treatment, lane);
  const match = levelMatch(joined(before), joined(after), scope);
  const frames = stretches.reduce((sum, { from, to }) => sum + to - from, 0);
  return match.kind === 'match' && frames < sound.frameCount
    ? { ...match, over_s: frames / sound.sampleRate_Hz }
    : match;
}

function rolesOf(part: HeardPart): readonly TreatedRole[] {
  if (part === 'all') return ['kick', 'bass', 'rest'];
  if (part === 'low end') return ['kick', 'bass'];
  return part === 'kick' || part === 'rest' ? [part] : ['bass'];
}

/** What nothing is done to is as loud as it came. */
function untouched(scope: 'whole mix' | 'part'): LevelMatch {
  const by = scope === 'whole mix' ? 'BS.1770 loudness' : 'loudness model';
  return { kind: 'match', match_dB: 0, apart_LU: 0, by, fair: true };
}

type Piece = (stretch: Stretch) => StereoSignal;

function sourcePiece(sound: SongSound, roles: readonly TreatedRole[]): Piece {
  const signals = roles.map((role) => sound[role]).filter((signal) => signal !== null);
  return ({ from, to }) => sumOf(signals.map((signal) => sliceOf(signal, from, to)))!;
}

function treatedPiece({ sound, treatment, whole }: MatchQuestion, roles: readonly TreatedRole[]): Piece {
  const atHand = (role: TreatedRole): StereoSignal | null =>
    role === 'rest' ? (isTreated(treatment, 'rest') ? null : sound.rest) : (whole?.[role] ?? null);
  const present = roles.filter((role) => sound[role] !== null);
  const rendered = present.filter((role) => atHand(role) === null);
  const kept = present.map(atHand).filter((signal) => signal !== null);
  return ({ from, to }) => {
    const preRoll = PRE_ROLL_S * sound.sampleRate_Hz;
    const song = renderSong(sound, treatment, { roles: rendered, from, to, preRoll });
    const buses = rendered.map((role) => song[role]).filter((bus) => bus !== null);
    return sumOf([...buses, ...kept.map((signal) => sliceOf(signal, from, to))])!;
  };
}

function lanePiece(sound: SongSound, treatment: Treatment, lane: 'low' | 'high'): Piece {
  const preRoll = PRE_ROLL_S * sound.sampleRate_Hz;
  return ({ from, to }) => renderLaneExcerpt(sound, treatment, lane, { from, to, preRoll });
}
