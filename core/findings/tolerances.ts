/**
 * Where a measure becomes a finding. Calibrated for this project on rendered and sampled songs with and without each fault
 * (docs/decisions.md); rules of the trade are marked as common practice.
 */
export const TOLERANCES = {
  /** Any finding about hits: least hits that support it. */
  hits: 4,
  /** `covered-kick`: a hit under this is covered; from here on it is felt in 9 of 10 phase relations. */
  covered_dB: 2,
  /** `covered-kick`: least share of covered hits; songs without the fault read 0 to 15 %. */
  coveredShare: 0.2,
  /** `cancelling-lows`: agreement of the middle hit; songs without the fault read -0.3 dB or more. */
  agreement_dB: -1,
  /** `cancelling-lows`: or this share of hits under -2 dB; songs without the fault read 0 to 4 %. */
  shareUnderMinus2dB: 0.25,
  /** `misaligned-mics`: least delay between two files of one source; an own choice, 10 cm of air. */
  trackDelay_ms: 0.3,
  /** `misaligned-mics`: least gain of putting it right, 40 to 200 Hz; an own choice. */
  correctingGain_dB: 0.5,
  /** `wide-lows`: loss in mono, 20 to 120 Hz; sound basses and sums read up to 0.01 dB, backings up to 0.6. */
  foldDownLoss_dB: 1,
  /** `wide-lows`: from this correlation on a loss is balance, not width. */
  offCentreCorrelation: 0.9,
  /** `wide-lows`: under this correlation left and right work against each other. */
  opposedCorrelation: -0.2,
  /** `uneven-notes`: spread of note levels P90 - P10; songs without the fault read 0.6 to 3.5 dB. */
  spread_dB: 6,
  /** `uneven-notes`: least share of notes beyond 4 dB of the line through the pitches. */
  shareBeyond4dB: 0.1,
  /** `uneven-notes`: least notes to judge by. */
  unevenNotes: 12,
  /** `lost-on-small-speakers`: carry on the laptop; songs without the fault read -11.3 LU or more. */
  laptopCarry_LU: -16,
  /** `lost-on-small-speakers`: least share of notes with two successive harmonics heard on the laptop. */
  heardHarmonicsShare: 0.6,
  /** `lost-on-small-speakers`: least notes to judge the share by. */
  heardNotes: 5,
  /** `rumble`: 5 to 20 Hz this far under the file's own 30 to 150 Hz; files without it lie 11 dB under or lower. */
  infrasonicUnder_dB: 6,
  /** `rumble`: quieter than this it does not matter. */
  infrasonic_dBFS: -50,
  /** `dc-offset`: mean of a channel; files without it read -57 dBFS or less. */
  dc_dBFS: -45,
  /** `no-headroom`: true peak of the sum; EBU R 128 allows -1 dBTP in production. */
  truePeak_dBTP: -1,
  /** `no-headroom`: what the lows cost in peak level. */
  lowsCost_dB: 3,
} as const;
