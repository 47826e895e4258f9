import type { ProofRow } from '../proof/compare-measurements.js';
import type { Session } from '../session/session-format.js';
import { valueOf } from '../units/reading.js';
import type { JobHost } from './job-host.js';
import { withPrintChoices } from './print-choices.js';
import { printSong, type KnownVersion, type PrintChoices, type PrintedVersion } from './print-song.js';
import { proveSong, type SongProof } from './prove-song.js';
import { loadSession, saveSession } from './session-store.js';
import type { TreatOutcome } from './treat-song.js';

export interface PrintOutcome {
  readonly printed: PrintedVersion;
  readonly proof: SongProof;
}

/** Prints what was treated, measures the files again, and remembers the version, its proof and the choices in the session. */
export async function printAndProve(
  host: JobHost,
  treated: TreatOutcome,
  choices: PrintChoices,
): Promise<PrintOutcome> {
  const { inspection, treatment, session } = treated;
  const printed = await printSong(host, inspection.song, treatment, choices, session.versions.map(knownVersion));
  const proof = await proveSong(host, inspection, printed);
  const before = await loadSession(host);
  await saveSession(host, withPrintChoices(withPrint(session, printed, proof.rows), choices), before);
  return { printed, proof };
}

function knownVersion(version: Session['versions'][number]): KnownVersion {
  return { version: version.name, key: version.key, files: version.files };
}

function withPrint(session: Session, printed: PrintedVersion, rows: readonly ProofRow[]): Session {
  const { version, key, files } = printed;
  const others = session.versions.filter(({ name }) => name !== version);
  const proofs = session.proofs.filter((proof) => proof.version !== version);
  const proof = {
    version,
    rows: rows.map((row) => ({
      statistic: row.statistic.address,
      before: valueOf(row.before),
      after: valueOf(row.after),
      verdict: row.verdict,
    })),
  };
  return {
    ...session,
    versions: [...others, { name: version, key, files: files.map((file) => ({ ...file, files: [...file.files] })) }],
    proofs: [...proofs, proof],
  };
}
