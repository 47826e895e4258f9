import type { ProofRow } from '../proof/compare-measurements.js';
import { formatAddress } from '../treatment/paths.js';
import { formatWish } from '../wishes/wish-text.js';
import type { Wish } from '../wishes/wish.js';
import { inspectionReport } from './inspect-song.js';
import { readingJson } from './inspection-json.js';
import type { PrintOutcome } from './print-and-prove.js';
import type { SongProof } from './prove-song.js';
import { lowsAtTrim_dB, reachedStages } from './reached-stages.js';
import type { TreatOutcome } from './treat-song.js';

/** What `treat --json` and `print --json` give: the inspection, what was decided and solved, and the proof of what was printed. */
export function treatmentJson(outcome: TreatOutcome, printed: PrintOutcome | null): Record<string, unknown> {
  const { solution } = outcome;
  return {
    inspect: inspectionReport(
      outcome.inspection,
      outcome.findings.map(({ finding }) => finding),
    ),
    decisions: outcome.findings.map(({ finding, action, reason }) => ({ finding: finding.id, action, reason })),
    agreed: outcome.agreed,
    stages:
      solution?.stages.map(({ address, request, solution: solved, strength }) => ({
        address: formatAddress(address),
        because: request.because,
        on: solved.on,
        settings: solved.settings,
        wanted: wantedJson(request.asked ?? request.wish),
        now: solved.now,
        expected: solved.reached === null ? null : { value: solved.reached, basis: 'rendered' },
        met: solved.met,
        turnedDownTo: strength,
        tried: solved.trials.map(({ amount, result }) => ({ [solved.amountKey ?? 'amount']: amount, result })),
        remark: solved.remark,
      })) ?? [],
    expected: solution === null ? [] : solution.rows.map(rowJson),
    lowsAtTrim_dB: lowsAtTrim_dB(outcome),
    renders: solution?.renders ?? 0,
    stopped: solution?.stopped ?? null,
    remarks: outcome.remarks,
    ...(printed === null ? {} : { print: printJson(outcome, printed) }),
  };
}

function printJson(outcome: TreatOutcome, { proof }: PrintOutcome): Record<string, unknown> {
  const wanted = reachedStages(outcome, proof).map((stage) => ({ ...stage, reached: readingJson(stage.reached) }));
  return { ...proofJson(proof), wantedAndReached: wanted };
}

/** What `proof --json` gives. */
export function proofJson(proof: SongProof): Record<string, unknown> {
  return {
    version: proof.version,
    rows: proof.rows.map(rowJson),
    harm: proof.harm.map(({ statistic }) => statistic.address),
    lowsChange_dB: readingJson(proof.lowsChange_dB),
    listeningMatch: {
      match_dB: readingJson(proof.match.match_dB),
      leftApart_LU: readingJson(proof.match.leftApart_LU),
    },
    files: proof.files.map(({ printed, ...facts }) => ({ ...printed, ...facts })),
  };
}

function rowJson({ statistic, before, after, change, verdict }: ProofRow): Record<string, unknown> {
  return { statistic: statistic.address, before: readingJson(before), after: readingJson(after), change, verdict };
}

function wantedJson(wish: Wish | null): Record<string, unknown> | null {
  return wish === null ? null : { statistic: wish.statistic, low: wish.low, high: wish.high, text: formatWish(wish) };
}
