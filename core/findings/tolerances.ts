/**
 * Where a measure becomes a finding. Calibrated for this project on rendered and sampled songs with and without each fault
 * (docs/decisions.md); rules of the trade are marked as common practice.
 */
export const TOLERANCES = {
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
