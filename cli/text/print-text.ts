import type { PrintOutcome } from '../../core/job/print-and-prove.js';
import type { SongProof } from '../../core/job/prove-song.js';
import { lowsAtTrim_dB, reachedStages } from '../../core/job/reached-stages.js';
import type { TreatOutcome } from '../../core/job/treat-song.js';
import { valueOf } from '../../core/units/reading.js';
import { statisticAt } from '../../core/wishes/statistics.js';
import { formatWish } from '../../core/wishes/wish-text.js';
import { changeText, numberText, readingText, valueText } from './figure-text.js';
import { proofText } from './measures-text.js';
import { formatTable, wrapText } from './table.js';

/** What was printed and what it did, measured again from the files. */
export function printText(outcome: TreatOutcome, { proof }: PrintOutcome, width: number): string {
  const atTrim = lowsAtTrim_dB(outcome);
  const held =
    atTrim === null
      ? ''
      : `${wrapText(`At trim the lows of kick and bass are held: ${changeText(atTrim, 'dB', 2)} against the source, 30 to 150 Hz.`, width).join('\n')}\n`;
  return `${proofOfFilesText(proof, width)}\n${wantedText(outcome, proof, width)}${held}`;
}

/** Wanted and reached, stage by stage in the order of the path, and where it was measured. */
function wantedText(outcome: TreatOutcome, proof: SongProof, width: number): string {
  const columns = [
    { title: 'stage' },
    { title: 'wanted' },
    { title: 'reached', align: 'right' as const },
    { title: 'measured in' },
    { title: 'met' },
  ];
  const rows = reachedStages(outcome, proof).map(({ address, on, wanted, statistic, reached, source, met }) => {
    const { unit = '', digits = 1 } = statisticAt(statistic ?? '') ?? {};
    const shown = on && reached.kind === 'figure';
    return [
      address,
      wanted === null ? '' : formatWish(wanted),
      on ? readingText(reached, unit, digits) : 'off',
      shown ? `the ${source}` : '',
      met === null || !on ? '' : met ? 'yes' : 'NO',
    ];
  });
  return rows.length === 0 ? '' : `${formatTable(columns, rows, width)}\n`;
}

export function proofOfFilesText(proof: SongProof, width: number): string {
  return [
    `${proof.version}, measured again from the files:\n`,
    proofText(proof.rows, width),
    `\n${verdictText(proof, width)}`,
    `\n${filesText(proof, width)}`,
  ].join('');
}

function verdictText(proof: SongProof, width: number): string {
  const better = proof.rows.filter(({ verdict }) => verdict === 'better').length;
  const worse = proof.rows.filter(({ verdict }) => verdict === 'worse-within').length;
  const lows = valueOf(proof.lowsChange_dB);
  const match = valueOf(proof.match.match_dB);
  const apart = valueOf(proof.match.leftApart_LU);
  const sentences = [
    `${better} figures are better, ${worse} worse within tolerance, ${proof.harm.length} worse by more than their tolerance.`,
    lows === null ? '' : `Printed, the lows of kick and bass read ${changeText(lows, 'dB', 2)}, 30 to 150 Hz.`,
    match === null || apart === null
      ? ''
      : `For listening, match the treated mix by ${changeText(match, 'dB', 2)}; source and treated are then ${numberText(Math.abs(apart), 2)} LU apart. The match is never printed.`,
  ];
  return sentences
    .filter((sentence) => sentence !== '')
    .flatMap((sentence) => wrapText(sentence, width))
    .map((line) => `${line}\n`)
    .join('');
}

function filesText({ files }: SongProof, width: number): string {
  const columns = [
    { title: 'file' },
    { title: 'holds' },
    { title: 'bits', align: 'right' as const },
    { title: 'length', align: 'right' as const },
    { title: '' },
  ];
  const rows = files.map(({ printed, bitDepth, frameCount, sampleRate_Hz, alignedOnTheSample, sameBytesAsSource }) => [
    printed.path,
    printed.kind === 'copy' ? 'the source' : printed.files.join(' + '),
    bitDepth,
    valueText(frameCount / sampleRate_Hz, 's', 3),
    sameBytesAsSource ? 'same bytes as the source' : alignedOnTheSample ? 'aligned on the sample' : 'NOT ALIGNED',
  ]);
  return formatTable(columns, rows, width);
}
