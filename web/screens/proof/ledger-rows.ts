import { sayCount } from '../../../core/findings/say-figure.js';
import type { ProofRow } from '../../../core/proof/compare-measurements.js';
import { stageAt } from '../../../core/treatment/paths.js';
import type { Treatment } from '../../../core/treatment/treatment.js';
import { sayValue } from '../../fields/say-value.js';

/** One line of the ledger: what was gained or lost, and by how much, as a positive number. */
export interface LedgerRow {
  readonly what: string;
  readonly amount: string;
  /** True where it is worse by more than its tolerance. */
  readonly harm: boolean;
}

export interface Ledger {
  readonly gained: readonly LedgerRow[];
  readonly lost: readonly LedgerRow[];
  /** Figures that moved and are told without being judged. */
  readonly told: readonly LedgerRow[];
  /** Figures that could not be compared, with the reason. */
  readonly open: readonly LedgerRow[];
}

/** What a figure means when it gets better and when it gets worse. A figure that is not named is said by its own name. */
const WORDS: Readonly<Record<string, readonly [better: string, worse: string]>> = {
  'clearance.p10_dB': ['The most covered hits stand clearer', 'The most covered hits sink further'],
  'clearance.median_dB': ['The middle hit stands clearer of the bass', 'The middle hit stands less clear'],
  'clearance.share2dB': ['More hits at least 2\u00a0dB clear', 'Fewer hits at least 2\u00a0dB clear'],
  'agreement.median_dB': ['Kick and bass add up better', 'Kick and bass add up less'],
  'agreement.p10_dB': ['The worst hits cancel less', 'The worst hits cancel more'],
  'centre.foldDownLoss_dB': ['Less of the lows is lost in mono', 'More of the lows is lost in mono'],
  'evenness.spread_dB': ['Notes lie closer in level', 'Notes lie further apart in level'],
  'evenness.pitchDeviation_dB': [
    'The furthest pitch stands closer to the line',
    'A pitch stands further from the line',
  ],
  'carry.laptop_LU': ['A laptop plays more of the bass', 'A laptop plays less of the bass'],
  'carry.heardHarmonicsShare': [
    'More notes with two harmonics in a row heard',
    'Fewer notes with two harmonics in a row heard',
  ],
  'carry.phone_LU': ['A phone plays more of the bass', 'A phone plays less of the bass'],
  'headroom.cost_dB': ['The lows cost less peak level', 'The lows cost more peak level'],
  'headroom.left_dB': ['More is left to 0\u00a0dBTP', 'Less is left to 0\u00a0dBTP'],
};

/** What it means that a figure got better or worse. */
export function wordsOfChange({ address, name }: ProofRow['statistic'], better: boolean): string {
  return WORDS[address]?.[better ? 0 : 1] ?? `${name}, ${better ? 'better' : 'worse'}`;
}

/** Gained and lost in one ledger, from the rows of the proof and from what the stages took. */
export function ledgerOf(rows: readonly ProofRow[], treatment: Treatment): Ledger {
  const judged = (row: ProofRow, side: 0 | 1): LedgerRow => {
    const { statistic, change, verdict } = row;
    const scale = statistic.unit === '%' ? 100 : 1;
    const words = wordsOfChange(statistic, side === 0);
    return { what: words, amount: sayValue(Math.abs(change ?? 0) * scale, statistic.unit), harm: verdict === 'harm' };
  };
  return {
    gained: rows.filter(({ verdict }) => verdict === 'better').map((row) => judged(row, 0)),
    lost: [
      ...rows.filter(({ verdict }) => verdict === 'harm').map((row) => judged(row, 1)),
      ...rows.filter(({ verdict }) => verdict === 'worse-within').map((row) => judged(row, 1)),
      ...takenByStages(treatment),
    ],
    told: rows.filter(isTold).map(({ statistic, change }) => ({
      what: statistic.name,
      amount: signed(sayValue(change!, statistic.unit === 'LUFS' ? 'LU' : statistic.unit), change!),
      harm: false,
    })),
    open: rows
      .filter(({ change }) => change === null)
      .map((row) => ({ what: row.statistic.name, amount: reasonOf(row), harm: false })),
  };
}

/** Told and not judged: the statistic is neither better nor worse one way, and it did move. */
function isTold({ statistic, change, verdict }: ProofRow): boolean {
  return statistic.better === 'neither' && change !== null && verdict !== 'same';
}

function signed(text: string, value: number): string {
  return value > 0 ? `+${text}` : text;
}

function reasonOf({ before, after }: ProofRow): string {
  if (before.kind === 'unmeasurable') return `source: ${before.reason}`;
  return after.kind === 'unmeasurable' ? `print: ${after.reason}` : '';
}

/** What make room took from the bass is a loss too, though no measure counts it. */
function takenByStages(treatment: Treatment): LedgerRow[] {
  const room = stageAt(treatment, { role: 'bass', track: null, lane: null, stage: 'make-room' });
  const cuts = room?.figures['cutPerHit_dB'];
  if (room === null || !room.on || !Array.isArray(cuts)) return [];
  const made = (cuts as readonly number[]).filter((cut_dB) => cut_dB > 0);
  if (made.length === 0) return [];
  const most = Math.min(Number(room.settings['cut_dB']), Math.max(...made));
  const frequency = sayValue(Math.round(Number(room.settings['frequency_Hz'])), 'Hz');
  return [
    {
      what: `The bass steps aside at ${sayCount(made.length, 'hit')}, around ${frequency}`,
      amount: `up to ${sayValue(most, 'dB')}`,
      harm: false,
    },
  ];
}
