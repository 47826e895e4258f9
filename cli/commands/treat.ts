import { printChoices } from '../../core/job/print-choices.js';
import { printAndProve, type PrintOutcome } from '../../core/job/print-and-prove.js';
import { mayPrint, treatSong, type TreatOutcome } from '../../core/job/treat-song.js';
import { treatmentJson } from '../../core/job/treatment-json.js';
import type { PrintChoices } from '../../core/job/print-song.js';
import type { PrintRequest, SongRequest, TreatRequest } from '../requests.js';
import { EXIT, type Terminal } from '../terminal.js';
import { planText } from '../text/treatment-text.js';
import { printText } from '../text/print-text.js';
import { songOptions, withSongHost } from './song-host.js';

/** Shows what would be done; solves what was agreed to; with `--print` prints it and proves it. */
export async function run(request: TreatRequest, terminal: Terminal): Promise<number> {
  const { accept, leave, later, wishes, settings } = request;
  const { outcome, printed } = await withSongHost(request.folder, terminal, async (host) => {
    const treated = await treatSong(host, songOptions(request), {
      said: { accept, leave, later },
      wishes,
      settings,
    });
    if (!request.print || !mayPrint(treated)) return { outcome: treated, printed: null };
    return { outcome: treated, printed: await printAndProve(host, treated, choicesOf(request, treated)) };
  });
  report(request, outcome, printed, terminal);
  return request.strict && falls(outcome, printed) ? EXIT.findings : EXIT.fine;
}

/** What is said of the print, over what the session remembers of the last one. */
export function choicesOf(request: Omit<PrintRequest, keyof SongRequest>, { session }: TreatOutcome): PrintChoices {
  const { format, gain_dB, printRoles, singleStems, printName } = request;
  return printChoices(session, {
    ...(format === null ? {} : { depth: format === 'source' ? null : format }),
    ...(gain_dB === null ? {} : { gain_dB }),
    ...(printRoles === null ? {} : { roles: printRoles }),
    ...(singleStems === null ? {} : { singleStems }),
    ...(printName === null ? {} : { name: printName }),
  });
}

/** One JSON object, or the plan and, where files were printed, the proof. */
export function report(
  { json }: { readonly json: boolean },
  outcome: TreatOutcome,
  printed: PrintOutcome | null,
  terminal: Terminal,
): void {
  if (json) return terminal.out(`${JSON.stringify(treatmentJson(outcome, printed), null, 2)}\n`);
  terminal.out(planText(outcome, terminal.width));
  if (printed !== null) terminal.out(`\n${printText(outcome, printed, terminal.width)}`);
}

/** Whether `--strict` ends with 1: something open, a wish that was not reached, or harm. */
export function falls(outcome: TreatOutcome, printed: PrintOutcome | null): boolean {
  if (!outcome.agreed) return outcome.findings.length > 0;
  const unreached = outcome.solution?.stages.some(({ solution }) => solution.met === false) ?? false;
  return unreached || (printed?.proof.harm.length ?? outcome.solution?.harm.length ?? 0) > 0;
}
