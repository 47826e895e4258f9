import { z } from 'zod';
import { ROLES } from '../song/song.js';

/**
 * The object that `keelson inspect --json` prints, as a published contract: these keys keep their names, units and meaning;
 * more keys may come beside them.
 */
const notMeasured = z.object({ value: z.null(), reason: z.string().min(1) });
const plainNumber = z.union([z.number(), notMeasured]);
const reading = z
  .union([z.object({ value: z.number(), low: z.number().optional(), high: z.number().optional() }), notMeasured])
  .describe('A figure with its 90 % interval where there is one, or null and the reason.');
const share = reading.describe('A share, 0..1.');

const stem = z.looseObject({
  file: z.string(),
  role: z.enum(ROLES),
  because: z.string(),
  channels: z.number().int().nonnegative().describe('0 where the file cannot be read; its faults say why.'),
  bitDepth: z.string().describe('Empty where the file cannot be read.'),
  sampleRate_Hz: z.number().nonnegative().describe('0 where the file cannot be read.'),
  duration_s: z.number().nonnegative(),
  faults: z.array(z.looseObject({ id: z.string(), sentence: z.string() })),
});

const note = z.looseObject({
  start_s: z.number(),
  end_s: z.number(),
  frequency_Hz: z.number().positive(),
  midi: z.number().int(),
  name: z.string().regex(/^[A-G]#?-?\d$/),
  cents: z.number().min(-50).max(50),
  level_dBFS: z.number(),
  harmonics_dB: z.array(z.number()),
});

const finding = z.looseObject({
  id: z.string(),
  severity: z.number().min(0).max(3),
  sentence: z.string(),
  where: z.looseObject({
    files: z.array(z.string()),
    hits_s: z.array(z.number()),
    notes: z.array(z.looseObject({ name: z.string(), start_s: z.number() })),
    bands_Hz: z.array(z.number()),
    times_s: z.array(z.tuple([z.number(), z.number()])),
  }),
  evidence: z.record(z.string(), z.unknown()),
  suggest: z.looseObject({
    stage: z.string(),
    wish: z.string(),
    expected: z.object({ value: z.number(), unit: z.string(), basis: z.enum(['estimate', 'rendered']) }).nullable(),
  }),
  leaveItWhen: z.string(),
});

export const inspectSchema = z.looseObject({
  song: z.looseObject({
    name: z.string(),
    sampleRate_Hz: z.number().positive(),
    duration_s: z.number().nonnegative(),
    tempo_bpm: plainNumber,
    stems: z.array(stem),
  }),
  kick: z.looseObject({
    hits: z.array(z.looseObject({ time_s: z.number(), level_dBFS: z.number(), clearance_dB: plainNumber })),
    fundamental_Hz: plainNumber,
    decay_ms: plainNumber,
  }),
  bass: z.looseObject({ notes: z.array(note) }),
  measures: z.looseObject({
    clearance: z.looseObject({ p10_dB: reading, median_dB: reading, share2dB: share, contested_Hz: reading }),
    agreement: z.looseObject({ median_dB: reading, p10_dB: reading }),
    centre: z.looseObject({ foldDownLoss_dB: reading }),
    evenness: z.looseObject({ spread_dB: reading, asHeard_dB: reading }),
    carry: z.looseObject({ laptop_LU: reading, phone_LU: reading, heardHarmonicsShare: share }),
    headroom: z.looseObject({ cost_dB: reading, left_dB: reading, integrated_LUFS: reading }),
  }),
  findings: z.array(finding),
  lookedForAndNotThere: z.array(z.string()),
});

/** The JSON Schema that is published as docs/formats/inspect.schema.json. */
export function inspectJsonSchema(): Record<string, unknown> {
  const { $schema, ...rest } = z.toJSONSchema(inspectSchema, { target: 'draft-2020-12' });
  return { $schema, title: 'What keelson inspect --json prints', ...rest };
}
