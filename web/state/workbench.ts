import { Deciding } from './deciding.js';
import { Hearing } from './hearing.js';
import { NamingVersions } from './naming-versions.js';
import { OpenSong } from './open-song.js';
import { Treating } from './treating.js';
import { WorkbenchGround } from './workbench-ground.js';
import type { Raised, Sheet } from './workbench-state.js';

/** The page's one state and everything that can be done to it, job by job. */
export class Workbench {
  private readonly ground = new WorkbenchGround();
  readonly store = this.ground.store;
  readonly song = new OpenSong(this.ground);
  readonly deciding = new Deciding(this.ground);
  readonly versions = new NamingVersions(this.ground, this.deciding);
  readonly treating = new Treating(this.ground, this.versions);
  readonly hearing = new Hearing(this.ground);

  show(sheet: Sheet): void {
    this.store.set({ sheet, raised: null });
  }

  /** Something rises over the sheet, or goes; it needs no song. */
  raise(raised: Raised | null): void {
    this.store.set({ raised });
  }

  choose(chosenFinding: number): void {
    this.store.set({ chosenFinding });
  }

  openStage(openStage: string | null): void {
    this.store.set({ openStage });
  }
}
