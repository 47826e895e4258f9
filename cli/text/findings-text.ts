import type { Faults } from '../../core/findings/find-faults.js';
import type { Finding } from '../../core/findings/finding.js';
import { valueText } from './figure-text.js';
import { wrapText } from './table.js';

/** What was found, the costliest first, what was looked for and is not there, and what could not be judged. */
export function findingsText({ findings, lookedForAndNotThere, unjudged }: Faults, width: number): string {
  const found =
    findings.length === 0 ? 'Nothing to mend.\n' : findings.map((finding) => findingText(finding, width)).join('\n');
  const notThere =
    lookedForAndNotThere.length > 0
      ? indented(`Looked for and not there: ${lookedForAndNotThere.join(', ')}.`, width, 0)
      : '';
  const open = unjudged.map(({ id, reason }) => indented(`Not judged: ${id} (${reason}).`, width, 0)).join('');
  return `${found}\n${notThere}${open}`;
}

function findingText(finding: Finding, width: number): string {
  const { id, severity, sentence, suggest, leaveItWhen } = finding;
  const lines = [`${id}  (severity ${severity.toFixed(1)} of 3)\n`, indented(sentence, width, 2)];
  if (suggest.stage !== 'none') lines.push(indented(`Would mend it: ${suggestionText(finding)}.`, width, 2));
  lines.push(indented(`Leave it when: ${leaveItWhen}`, width, 2));
  return lines.join('');
}

function suggestionText({ suggest: { stage, address, wish, expected } }: Finding): string {
  const place = address === '' ? stage : address;
  const wanted = wish === '' ? '' : `, wanted ${wish}`;
  if (expected === null) return `${place}${wanted}`;
  const basis = expected.basis === 'estimate' ? 'an estimate' : 'rendered';
  const isShare = expected.unit === '%'; // said in per cent, while figures of measures are shares
  const value = isShare ? valueText(expected.value / 100, '%', 0) : valueText(expected.value, expected.unit, 1);
  return `${place}${wanted}, expected ${value} (${basis})`;
}

function indented(text: string, width: number, by: number): string {
  return wrapText(text, width - by)
    .map((line) => `${' '.repeat(by)}${line}\n`)
    .join('');
}
