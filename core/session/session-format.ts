import { z } from 'zod';
import { ROLES } from '../song/song.js';
import type { Treatment } from '../treatment/treatment.js';

// the page's content security policy forbids code made from text, so the schemas must not try it
z.config({ jitless: true });

/**
 * The session file `keelson.json`, version 1: what was decided about a song, never what was measured of it. Every change of
 * this format is a new version with an upgrader in `session-upgraders.ts`.
 */
export const SESSION_VERSION = 1;

const role = z.enum(ROLES);
const settingValue = z.union([z.number(), z.string(), z.boolean()]);
const figureValue = z.union([z.number(), z.array(z.number())]);

const stem = z.strictObject({
  path: z.string().min(1).describe('Relative to the song folder.'),
  sha256: z
    .string()
    .regex(/^[0-9a-f]{64}$/)
    .describe('Fingerprint of the whole file, so that a replaced stem is noticed.'),
  role,
  because: z.string().describe('Why the stem has its role.'),
});

const decision = z.strictObject({
  finding: z.string().min(1).describe('Id of the finding, for instance wide-lows.'),
  action: z.enum(['treat', 'leave', 'later']),
  reason: z.string().describe('In the engineer’s words; may be empty.'),
});

const wish = z.strictObject({
  statistic: z.string().min(1).describe('Address of the figure, for instance clearance.share2dB.'),
  low: z.number().nullable(),
  high: z.number().nullable(),
});

const setting = z.strictObject({
  address: z.string().min(1).describe('Place and key of the setting, for instance bass.make-room.cut_dB.'),
  value: settingValue,
});

const order = z.strictObject({
  place: z.string().min(1).describe('Place of the stages: bass.low, bass.high, or a role for its bus.'),
  stages: z.array(z.string().min(1)).describe('Ids of stages, in the order in which the sound is to pass them.'),
});

const stage = z.strictObject({
  stage: z.string().min(1),
  on: z.boolean(),
  settings: z.record(z.string(), settingValue),
  figures: z.record(z.string(), figureValue),
});

const rolePath = z.strictObject({
  tracks: z.array(z.strictObject({ file: z.string().min(1), stages: z.array(stage) })),
  stages: z.array(stage),
  lanes: z.strictObject({ low: z.array(stage), high: z.array(stage) }),
});

const hit = z.strictObject({ time_s: z.number(), level_dBFS: z.number() });

const note = z.strictObject({
  start_s: z.number(),
  end_s: z.number(),
  frequency_Hz: z.number().positive(),
  level_dBFS: z.number(),
  harmonics_dB: z.array(z.number()),
  fundamentalMissing: z.boolean(),
  curve_Hz: z.array(z.number()).nullable(),
  curveStep_s: z.number(),
});

const treatment = z.strictObject({
  format: z.literal('keelson-treatment'),
  version: z.literal(1),
  sampleRate_Hz: z.number().positive(),
  notes: z.array(note).describe('Control signals: processing follows these notes.'),
  hits: z.array(hit).describe('Control signals: processing follows these hits.'),
  kick: rolePath,
  bass: rolePath,
  rest: rolePath,
});

const version = z.strictObject({
  name: z
    .string()
    .regex(/^v[1-9]\d*$/)
    .describe('v1, v2 and so on: the folder of its prints.'),
  key: z.string().min(1).describe('Fingerprint of inputs and decisions; the same key keeps the same version.'),
  files: z.array(
    z.strictObject({
      path: z.string().min(1).describe('Relative to the song folder.'),
      role: z.enum(['kick', 'bass', 'rest']),
      kind: z.enum(['copy', 'bus', 'track']).describe('A copy of a source, a whole role, or a single stem.'),
      files: z.array(z.string().min(1)).describe('The source files it holds.'),
      start: z.int().min(0).describe('Where it begins, in samples of the song.'),
      sha256: z.string().regex(/^[0-9a-f]{64}$/),
    }),
  ),
});

const proofValue = z.number().nullable();

const proof = z.strictObject({
  version: z.string().regex(/^v[1-9]\d*$/),
  rows: z.array(
    z.strictObject({ statistic: z.string().min(1), before: proofValue, after: proofValue, verdict: z.string().min(1) }),
  ),
});

const revision = z.strictObject({
  name: z.string().min(1).describe('What the engineer calls this state.'),
  at: z.string().min(1).describe('When it was named, ISO 8601; empty where that is not known.'),
  print: z
    .string()
    .regex(/^v[1-9]\d*$/)
    .nullable()
    .describe('The print that was made of it.'),
  decisions: z.array(decision),
  wishes: z.array(wish),
  settings: z.array(setting),
  orders: z.array(order),
  treatment: z
    .strictObject({
      follows: z.string().min(1).describe('Mark of the hits and notes it follows: with others it is solved anew.'),
      kick: rolePath,
      bass: rolePath,
      rest: rolePath,
    })
    .nullable()
    .describe('As it was solved or set; null where it was not solved.'),
  match_dB: z.number().nullable().describe('Gain that makes it as loud as the source, where it was measured.'),
  rows: proof.shape.rows.describe('Figures of the six measures, source and treated; empty where it was not solved.'),
});

const letter = z.enum(['A', 'B']);

const blindCompare = z.strictObject({
  date: z.string().min(1).describe('When it ended, ISO 8601.'),
  a: z.string().min(1),
  b: z.string().min(1).describe('What was compared.'),
  conditions: z.string().describe('Part, loudspeaker and loop, in words, as agreed before the first trial.'),
  match_dB: z.number().describe('Gain on B that made both equally loud.'),
  trials: z.int().min(1).describe('Agreed before the first.'),
  answered: z.int().min(0).describe('Fewer than the trials where it was abandoned.'),
  answers: z
    .array(z.strictObject({ x: letter, said: letter }))
    .describe('What X was and what was said, trial by trial; empty where it was abandoned.'),
  right: z.int().min(0).nullable().describe('null where it was abandoned.'),
  probability: z
    .number()
    .min(0)
    .max(1)
    .nullable()
    .describe('Of as many right or more by guessing alone (binomial, 1/2); null where it was abandoned.'),
});

const printing = z.strictObject({
  depth: z.enum(['16', '24', '32f']).nullable().describe('Of every rendered file; null keeps that of the sources.'),
  gain_dB: z.number().describe('On every rendered file.'),
  roles: z.array(z.enum(['kick', 'bass', 'rest'])),
  singleStems: z.boolean().describe('Single stems beside a role that is printed as one.'),
  name: z.string().min(1).describe('Pattern of the file names; {name} stands for what they are called else.'),
});

const printingAtFirst = (): z.infer<typeof printing> => ({
  ...{ depth: null, gain_dB: 0, roles: ['kick', 'bass', 'rest'], singleStems: true, name: '{name}' },
});

export const sessionSchema = z.strictObject({
  format: z.literal('keelson-session'),
  version: z.literal(SESSION_VERSION),
  stems: z.array(stem),
  monoStems_dB: z.number().min(-12).max(0).default(0).describe('Gain at which mono stems stand in both channels.'),
  decisions: z.array(decision),
  wishes: z.array(wish),
  settings: z.array(setting).describe('What the engineer set by hand; it goes before what is solved.'),
  orders: z.array(order).default([]).describe('Order of stages that the engineer changed.'),
  treatment: treatment.nullable(),
  printing: printing
    .default(printingAtFirst)
    .describe('What was printed last, and how: the next print begins with it.'),
  versions: z.array(version),
  proofs: z.array(proof),
  revisions: z.array(revision).default([]).describe('States that were named, oldest first.'),
  blindCompares: z.array(blindCompare).default([]).describe('Blind compares, in the order they ended.'),
});

/** A session as plain data. Its treatment has the engine's own type: ids of stages are checked where it is run. */
export type Session = Omit<z.infer<typeof sessionSchema>, 'treatment' | 'revisions'> & {
  treatment: Treatment | null;
  revisions: Revision[];
};
export type SessionStem = Session['stems'][number];
export type Decision = Session['decisions'][number];
export type SettingByHand = Session['settings'][number];
export type OrderByHand = Session['orders'][number];
export type Printing = Session['printing'];
export type PrintVersion = Session['versions'][number];
export type ProofRecord = Session['proofs'][number];
export type Revision = Omit<z.infer<typeof revision>, 'treatment'> & {
  treatment: (Pick<Treatment, 'kick' | 'bass' | 'rest'> & { follows: string }) | null;
};
export type BlindCompareRecord = Session['blindCompares'][number];

/** The session of a song that has none yet. */
export function emptySession(): Session {
  return {
    format: 'keelson-session',
    version: SESSION_VERSION,
    stems: [],
    monoStems_dB: 0,
    decisions: [],
    wishes: [],
    settings: [],
    orders: [],
    treatment: null,
    printing: printingAtFirst(),
    versions: [],
    proofs: [],
    revisions: [],
    blindCompares: [],
  };
}

/** The JSON Schema that is published as docs/formats/keelson-session.schema.json. */
export function sessionJsonSchema(): Record<string, unknown> {
  const { $schema, ...rest } = z.toJSONSchema(sessionSchema, { target: 'draft-2020-12' });
  return { $schema, title: 'Keelson session, version 1', ...rest };
}
