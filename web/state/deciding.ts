import type { SettingValue, Treatment } from '../../core/treatment/treatment.js';
import { orderEdit, releaseEdit, settingEdit, switchEdit, treatAllEdit, type SessionEdit } from './session-edits.js';
import { redone, undone, withStep } from './session-history.js';
import type { WorkbenchGround } from './workbench-ground.js';

/** What the engineer decides, as steps that can be taken back. */
export class Deciding {
  constructor(private readonly ground: WorkbenchGround) {}

  edit(edit: SessionEdit): void {
    if (!this.ground.mayEdit()) return;
    const { history } = this.ground.store.read();
    this.ground.setHistory(withStep(history, edit.name, edit.apply(history.session)));
  }

  undo(): void {
    if (this.ground.mayEdit()) this.ground.setHistory(undone(this.ground.store.read().history));
  }

  redo(): void {
    if (this.ground.mayEdit()) this.ground.setHistory(redone(this.ground.store.read().history));
  }

  treatAll(): void {
    const { song } = this.ground.store.read();
    if (song !== null) this.edit(treatAllEdit(song.faults.findings.map(({ id }) => id)));
  }

  /** A stage switched by hand in what was solved. */
  switchStage(address: string, on: boolean): void {
    this.edit(switchEdit(this.treatment, address, on));
  }

  /** A setting by hand: it is drawn and heard at once. */
  setByHand(address: string, value: SettingValue): void {
    this.edit(settingEdit(this.treatment, address, value));
  }

  /** A setting is given back: it stands as it was found. */
  release(address: string, found: SettingValue): void {
    this.edit(releaseEdit(this.treatment, address, found));
  }

  orderStages(addresses: readonly string[]): void {
    this.edit(orderEdit(this.treatment, addresses));
  }

  private get treatment(): Treatment {
    const { song, history } = this.ground.store.read();
    return history.session.treatment ?? song!.untreated;
  }
}
