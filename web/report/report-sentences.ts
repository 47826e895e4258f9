import { isMeasured, valueOf } from '../../core/units/reading.js';
import type { ProofRow } from '../../core/proof/compare-measurements.js';
import type { TreatmentProof } from '../../core/proof/prove-treatment.js';
import { sayCount } from '../../core/findings/say-figure.js';
import { sayValue } from '../fields/say-value.js';
import { wordsOfChange } from '../screens/proof/ledger-rows.js';
import { coveredHits } from '../screens/proof/hits-line.js';

/** A sentence with its figures set strong. */
export type ReportSentence = readonly (string | { readonly strong: string })[];

/** What changed, for somebody who was not in the room: the kick, the bass, and what it cost. */
export function reportSentences({
  before,
  after,
  rows,
}: Pick<TreatmentProof, 'before' | 'after' | 'rows'>): ReportSentence[] {
  return [kickSentence(before, after), bassSentence(rows), costSentence(rows)].filter(
    (sentence) => sentence.length > 0,
  );
}

function kickSentence(before: TreatmentProof['before'], after: TreatmentProof['after']): ReportSentence {
  if (!isMeasured(before.clearance) || !isMeasured(after.clearance)) return [];
  const was = coveredHits(before.clearance.hits);
  const now = coveredHits(after.clearance.hits);
  const clear = now.counted - now.covered;
  const wasClear = was.counted - was.covered;
  if (clear === wasClear)
    return [
      'The kick stands clear of the bass on ',
      { strong: `${clear} of ${sayCount(now.counted, 'hit')}` },
      ', as before.',
    ];
  const way = clear > wasClear ? 'up from' : 'down from';
  return [
    'The kick now stands clear of the bass on ',
    { strong: `${clear} of ${sayCount(now.counted, 'hit')}` },
    `, ${way} ${wasClear}.`,
  ];
}

type Rows = TreatmentProof['rows'];

const GAINS: readonly (readonly [address: string, words: (amount: string) => ReportSentence])[] = [
  ['evenness.spread_dB', (amount) => ['its notes lie ', { strong: amount }, ' closer in level']],
  ['centre.foldDownLoss_dB', (amount) => ['it loses ', { strong: amount }, ' less in mono']],
  ['carry.laptop_LU', (amount) => ['it comes through a laptop ', { strong: amount }, ' stronger against the song']],
];

function bassSentence(rows: Rows): ReportSentence {
  const parts = GAINS.flatMap(([address, words]) => {
    const row = rows.find(({ statistic }) => statistic.address === address);
    return row?.verdict === 'better' ? [words(sayValue(Math.abs(row.change!), row.statistic.unit))] : [];
  });
  if (parts.length === 0) return [];
  return [
    'The bass: ',
    ...parts.flatMap((part, i) => [...(i === 0 ? [] : [i === parts.length - 1 ? ', and ' : ', ']), ...part]),
    '.',
  ];
}

/** More are counted: the ledger under the sentence lists them. */
const MOST_COSTS = 4;

/** Harm as plainly as gain: every figure that reads worse, those beyond their tolerance first. */
function costSentence(rows: Rows): ReportSentence {
  const all = [...withVerdict(rows, 'harm'), ...withVerdict(rows, 'worse-within')];
  const worse = all.slice(0, MOST_COSTS);
  if (worse.length === 0)
    return ['It cost nothing that the six measures show. If you miss what was there, say so, and it comes back.'];
  const parts = worse.map((row): ReportSentence => {
    const scale = row.statistic.unit === '%' ? 100 : 1;
    const words = wordsOfChange(row.statistic, false);
    const amount = sayValue(Math.abs(row.change!) * scale, row.statistic.unit);
    return [`${words.charAt(0).toLowerCase()}${words.slice(1)}, by `, { strong: amount }];
  });
  const listed = parts.flatMap((part, i) => [...(i === 0 ? [] : ['; ']), ...part]);
  const more = all.length - worse.length;
  const rest = more === 0 ? [] : [`; and ${more} more, under Lost`];
  return ['What it cost: ', ...listed, ...rest, '. If you miss what was there, say so, and it comes back.'];
}

const withVerdict = (rows: Rows, wanted: ProofRow['verdict']): Rows => rows.filter(({ verdict }) => verdict === wanted);

/** Loudness of the whole song before and after, where it was measured. */
export function loudnessLine({ rows }: Pick<TreatmentProof, 'rows'>): string {
  const row = rows.find(({ statistic }) => statistic.address === 'headroom.integrated_LUFS');
  const [before, after] = [valueOf(row?.before), valueOf(row?.after)];
  if (before === null || after === null) return '';
  return `All stems together: ${sayValue(before, 'LUFS')} before, ${sayValue(after, 'LUFS')} after.`;
}
