import type { PrintChoices } from '../../core/job/print-song.js';
import type { NamingVersions } from './naming-versions.js';
import type { WorkbenchGround } from './workbench-ground.js';
import { decisionsText } from './workbench-state.js';
import { workOf } from './worker-client.js';

/** Solves what was agreed to, and prints what was solved. */
export class Treating {
  constructor(
    private readonly ground: WorkbenchGround,
    private readonly versions: NamingVersions,
  ) {}

  async solve(): Promise<void> {
    const { store, client } = this.ground;
    if (!this.ground.mayEdit()) return;
    const { history } = store.read();
    const solvedFor = decisionsText(history);
    store.set({ work: workOf('solve', 'solving') });
    await this.ground.attempt('path', async () => {
      const solved = await client.ask('solve', { session: history.session });
      return () => {
        store.set({ solved, solvedFor, work: null });
        this.ground.amend({ treatment: solved?.solution.treatment ?? null });
      };
    });
  }

  async print(choices: PrintChoices): Promise<void> {
    const { store, client } = this.ground;
    if (!this.ground.mayEdit()) return;
    const { session } = store.read().history;
    store.set({ sheet: 'proof', raised: null, work: workOf('print', 'printing') });
    await this.ground.attempt('proof', async () => {
      const printed = await client.ask('print', { session, choices });
      return () => {
        store.set({ printed, work: null });
        const { printing, versions, proofs } = printed.session;
        this.ground.amend({ printing, versions, proofs });
        this.versions.add('printed', printed.printed.version, printed.proof.rows);
      };
    });
  }
}
