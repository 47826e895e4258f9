import type { Measurements } from '../measure/measurements.js';
import type { StemLows } from '../measure/stem-lows.js';
import { dB_to_power, power_to_dB } from '../units/decibels.js';
import { valueOf } from '../units/reading.js';
import { cleanAddress } from './clean-address.js';
import type { FindingDeclaration } from './finding-declaration.js';
import { EMPTY_PLACE, type Finding } from './finding.js';
import { sayFigure } from './say-figure.js';
import { severityOf } from './severity.js';
import { TOLERANCES } from './tolerances.js';

const LOW_Hz = 5;
const HIGH_Hz = 20;

export const rumble: FindingDeclaration = {
  id: 'rumble',
  name: 'rumble',
  help:
    'From 5 to 20 Hz a file holds more than −50 dBFS and comes within 6 dB of its own 30 to 150 Hz. Tolerances measured for ' +
    'this project: files without it lie 11 dB under or lower.',
  leaveItWhen: 'the sound below the notes is wanted: an effect, a drop, a room that is part of the record.',
  companions: ['no-headroom', 'dc-offset'],
  reads: ['known', 'stemLows'],

  find(measured: Measurements): Finding[] {
    return measured.stemLows.flatMap((stem) => {
      const infrasonic = valueOf(stem.infrasonic_dBFS);
      if (infrasonic === null || infrasonic <= TOLERANCES.infrasonic_dBFS) return [];
      const lows = valueOf(stem.lows_dBFS) ?? TOLERANCES.infrasonic_dBFS;
      const under = lows - infrasonic;
      return under < TOLERANCES.infrasonicUnder_dB ? [findingOf(measured, stem, infrasonic, lows)] : [];
    });
  },

  unjudged: () => null,
};

function findingOf(measured: Measurements, stem: StemLows, infrasonic: number, lows: number): Finding {
  const under = lows - infrasonic;
  const lowest_Hz = lowestNote_Hz(measured);
  const corner_Hz = Math.min(HIGH_Hz, lowest_Hz === null ? HIGH_Hz : lowest_Hz / 2);
  const place = under >= 0 ? 'below' : 'above';
  const only = under >= 0 ? 'only ' : '';
  return {
    id: 'rumble',
    severity: severityOf(TOLERANCES.infrasonicUnder_dB - under, TOLERANCES.infrasonicUnder_dB),
    sentence:
      `At ${LOW_Hz} to ${sayFigure(HIGH_Hz, 'Hz', 0)} ${stem.file} is ${only}${sayFigure(Math.abs(under), 'dB')} ` +
      `${place} its own lows${lowest_Hz !== null && lowest_Hz > HIGH_Hz ? ', and no note is there' : ''}.`,
    where: { ...EMPTY_PLACE, files: [stem.file], bands_Hz: [LOW_Hz, HIGH_Hz] },
    evidence: {
      role: stem.role,
      infrasonic_dBFS: infrasonic,
      lows_dBFS: lows,
      lowestNote_Hz: lowest_Hz,
      bands_Hz: stem.bands_Hz,
      bands_dBFS: stem.bands_dBFS,
    },
    suggest: {
      stage: 'clean',
      address: cleanAddress(stem),
      wish: '',
      settings: { lowCut: true, corner_Hz },
      expected: { value: afterCut_dBFS(stem, corner_Hz), unit: 'dBFS', basis: 'estimate' },
    },
    leaveItWhen: rumble.leaveItWhen,
  };
}

function lowestNote_Hz({ known }: Measurements): number | null {
  return known.notes.reduce<number | null>(
    (lowest, { frequency_Hz }) => (lowest === null || frequency_Hz < lowest ? frequency_Hz : lowest),
    null,
  );
}

/** What a second-order Butterworth low cut leaves of 5 to 20 Hz: every band times 1 / (1 + (corner / f)^4). */
function afterCut_dBFS(stem: StemLows, corner_Hz: number): number {
  let power = 0;
  stem.bands_Hz.forEach((centre_Hz, i) => {
    const level = stem.bands_dBFS[i];
    if (centre_Hz > HIGH_Hz || level === null || level === undefined) return;
    const ratio = corner_Hz / centre_Hz;
    power += dB_to_power(level) / (1 + ratio * ratio * ratio * ratio);
  });
  return power_to_dB(power);
}
