/**
 * A wanted result over one named statistic: `clearance.share2dB >= 0.9`, `steady.loudNoteReduction_dB 3..5`. Limits may be open
 * on one side. Text form: `>= 90 %`, `<= 1`, `3..5`, `-14..` and so on; shares are 0..1 in data.
 */
export interface Wish {
  readonly statistic: string;
  readonly low: number | null;
  readonly high: number | null;
}
