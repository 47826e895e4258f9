import assert from 'node:assert/strict';
import { join } from 'node:path';
import { inspectSchema } from '../../core/session/inspect-format.js';
import { isSafe, statisticAt } from '../../core/wishes/statistics.js';
import { printedWav } from './printed-wav.js';
import { everyFile } from './song-folder.js';

/** What `treat --json --print` gives, as far as these tests read it. */
export interface TreatReport {
  readonly inspect: {
    readonly findings: readonly { readonly id: string; readonly where: { readonly files: readonly string[] } }[];
    readonly lookedForAndNotThere: readonly string[];
    readonly song: {
      readonly sampleRate_Hz: number;
      readonly duration_s: number;
      readonly remarks: readonly string[];
      readonly stems: readonly StemReport[];
    };
  };
  readonly decisions: readonly { readonly finding: string; readonly action: string; readonly reason: string }[];
  readonly agreed: boolean;
  readonly stages: readonly StageReport[];
  readonly lowsAtTrim_dB: number | null;
  readonly remarks: readonly string[];
  readonly print?: PrintReport;
}

export interface StemReport {
  readonly file: string;
  readonly role: string;
  readonly because: string;
  readonly sampleRate_Hz: number;
  readonly start_samples: number;
  readonly faults: readonly { readonly id: string; readonly sentence: string }[];
}

export interface StageReport {
  readonly address: string;
  readonly on: boolean;
  readonly wanted: { readonly statistic: string } | null;
  readonly settings: Readonly<Record<string, number | string | boolean>>;
  readonly now: number | null;
  readonly expected: { readonly value: number } | null;
  readonly met: boolean | null;
  readonly turnedDownTo: number;
  readonly remark: string | null;
}

export interface PrintReport {
  readonly version: string;
  readonly rows: readonly {
    readonly statistic: string;
    readonly change: number | null;
    readonly after: { readonly value: number | null };
    readonly verdict: string;
  }[];
  readonly harm: readonly string[];
  readonly listeningMatch: { readonly leftApart_LU: { readonly value: number | null } };
  readonly files: readonly {
    readonly path: string;
    readonly kind: 'copy' | 'bus' | 'track';
    readonly files: readonly string[];
    readonly start: number;
  }[];
}

/** Reads the report; its inspection keeps the published contract. */
export function readReport(text: string): TreatReport {
  const report = JSON.parse(text) as TreatReport;
  const checked = inspectSchema.safeParse(report.inspect);
  assert.ok(checked.success, checked.error?.message);
  return report;
}

/**
 * What every whole job owes: treated figures better, none worse by more than its tolerance, the lows at trim and the listening
 * match held (0.1 dB and 0.1 LU, docs/decisions.md), prints as long as their sources, at their rate, untouched ones their bytes.
 */
export async function assertWholeJob(folder: string, report: TreatReport): Promise<void> {
  const { print, stages, lowsAtTrim_dB } = report;
  assert.ok(print !== undefined);
  assert.deepEqual(print.harm, []);
  const treated = stages.flatMap(({ on, wanted }) => (on && wanted !== null ? [wanted.statistic] : []));
  for (const { statistic, change, after, verdict } of print.rows) {
    if (treated.includes(statistic)) assert.equal(verdict, 'better', statistic);
    const declared = statisticAt(statistic)!;
    const { better, worseBy } = declared;
    if (change === null || worseBy === null || isSafe(declared, after.value!)) continue;
    assert.ok((better === 'higher' ? change : -change) >= -worseBy - 1e-9, `${statistic} ${change}`);
  }
  assert.ok(lowsAtTrim_dB !== null && Math.abs(lowsAtTrim_dB) <= 0.1, `lows at trim ${lowsAtTrim_dB} dB`);
  const apart = print.listeningMatch.leftApart_LU.value;
  assert.ok(apart !== null && Math.abs(apart) <= 0.1, `listening match ${apart} LU`);
  await assertPrints(folder, print);
}

async function assertPrints(folder: string, print: PrintReport): Promise<void> {
  const standing = await everyFile(folder);
  const prints = Object.keys(standing).filter((path) => path.startsWith('Keelson prints/'));
  assert.deepEqual(
    prints,
    print.files.map(({ path }) => path).sort(),
    'what is printed is what is told, and no part is left',
  );
  for (const { path, kind, files } of print.files) {
    if (kind === 'copy') {
      assert.equal(standing[path], standing[files[0]!], `${path}: the bytes of its source`);
      continue;
    }
    const wav = await printedWav(join(folder, path));
    const sources = await Promise.all(files.map((file) => printedWav(join(folder, file))));
    assert.equal(wav.frameCount, Math.max(...sources.map(({ frameCount }) => frameCount)), path);
    assert.equal(wav.sampleRate_Hz, sources[0]!.sampleRate_Hz, path);
  }
}

/** How many frames a sound stands behind another, by the highest point of their cross-correlation. */
export function framesBehind(sound: Float64Array, other: Float64Array, furthest = 480): number {
  const from = Math.floor(other.length / 4);
  const to = Math.min(other.length - furthest, from + 240_000);
  let best = { lag: 0, product: -Infinity };
  for (let lag = -furthest; lag <= furthest; lag++) {
    let product = 0;
    for (let n = Math.max(from, -lag); n < to; n += 3) product += sound[n + lag]! * other[n]!;
    if (product > best.product) best = { lag, product };
  }
  return best.lag;
}
