import { bytesOf, terminatedText, viewOf } from './byte-text.js';

/** The Broadcast Audio Extension chunk `bext`, EBU Tech 3285 version 2 (2011). */
export interface BroadcastExtension {
  readonly description: string;
  readonly originator: string;
  readonly originatorReference: string;
  /** `yyyy-mm-dd` as written by the source. */
  readonly date: string;
  /** `hh:mm:ss` as written by the source. */
  readonly time: string;
  /** Samples since midnight, at the file's own rate; whole, up to 2^53. */
  readonly timeReference_samples: number;
  readonly version: number;
  readonly codingHistory: string;
}

/** Bytes before the coding history. */
export const BROADCAST_FIXED_BYTES = 602;
const VERSION_AT = 346;
const TIME_REFERENCE_AT = 338;
const LOUDNESS_AT = 412;
const LOUDNESS_FIELDS = 5;
const LOUDNESS_UNSET = 0x7fff;

/** @returns the fields of a `bext` chunk, or null where it is too short to be one. */
export function parseBroadcastExtension(bytes: Uint8Array): BroadcastExtension | null {
  if (bytes.length < BROADCAST_FIXED_BYTES) return null;
  const view = viewOf(bytes);
  const field = (at: number, length: number): string => terminatedText(bytes.subarray(at, at + length));
  const low = view.getUint32(TIME_REFERENCE_AT, true);
  const high = view.getUint32(TIME_REFERENCE_AT + 4, true);
  return {
    description: field(0, 256),
    originator: field(256, 32),
    originatorReference: field(288, 32),
    date: field(320, 10),
    time: field(330, 8),
    timeReference_samples: high * 4294967296 + low,
    version: view.getUint16(VERSION_AT, true),
    codingHistory: terminatedText(bytes.subarray(BROADCAST_FIXED_BYTES)),
  };
}

/** What a print changes in the source's `bext`. */
export interface BroadcastChange {
  /** One line of coding history, without its line end. */
  readonly codingHistoryLine: string;
  /** Only where the print's rate or start differs from the source's. */
  readonly timeReference_samples?: number;
}

/**
 * The source's `bext` for a print: every byte stays but three things. The coding history gains a line, ended by CR LF; the
 * loudness values of version 2, which spoke of the source, become 0x7FFF (not set); the time reference is scaled where asked.
 * Date, time and unique identifier stay the source's: no clock is read.
 */
export function broadcastForPrint(source: Uint8Array, change: BroadcastChange): Uint8Array {
  const history = terminatedText(source.subarray(BROADCAST_FIXED_BYTES));
  const lineEnd = history === '' || history.endsWith('\n') ? '' : '\r\n';
  const added = bytesOf(`${history}${lineEnd}${change.codingHistoryLine}\r\n`);
  const bytes = new Uint8Array(BROADCAST_FIXED_BYTES + added.length);
  bytes.set(source.subarray(0, BROADCAST_FIXED_BYTES));
  bytes.set(added, BROADCAST_FIXED_BYTES);
  const view = viewOf(bytes);
  if (view.getUint16(VERSION_AT, true) >= 2) {
    for (let i = 0; i < LOUDNESS_FIELDS; i++) view.setInt16(LOUDNESS_AT + 2 * i, LOUDNESS_UNSET, true);
  }
  if (change.timeReference_samples !== undefined) {
    view.setUint32(TIME_REFERENCE_AT, change.timeReference_samples % 4294967296, true);
    view.setUint32(TIME_REFERENCE_AT + 4, Math.floor(change.timeReference_samples / 4294967296), true);
  }
  return bytes;
}

/** Coding history as EBU Tech 3285 appendix A and EBU R 98 write it: algorithm, rate, word length, mode, free text. */
export function codingHistoryLine(
  sampleRate_Hz: number,
  wordLength_bits: number,
  channels: 1 | 2,
  text: string,
): string {
  return `A=PCM,F=${sampleRate_Hz},W=${wordLength_bits},M=${channels === 1 ? 'mono' : 'stereo'},T=${text}`;
}
