import { PlainError } from '../units/plain-error.js';
import type { FileFault } from '../song/song.js';
import { openAiff } from './aiff-reader.js';
import type { AudioReader } from './audio-reader.js';
import { textOf } from './byte-text.js';
import type { ByteSource } from './byte-source.js';
import type { CompressedDecoders } from './compressed-decoders.js';
import { openFlac } from './flac-reader.js';
import { checkMonoOrStereo } from './sound-limits.js';
import { openWav } from './wav-reader.js';

type Kind = 'wav' | 'aiff' | 'flac';

const EXTENSIONS: Readonly<Record<Kind, readonly string[]>> = {
  wav: ['wav', 'wave', 'bwf', 'rf64', 'bw64'],
  aiff: ['aif', 'aiff', 'aifc'],
  flac: ['flac'],
};

/**
 * Opens a stem: mono or stereo, told by its content and not by its name.
 * @throws PlainError naming the file, the reason and what to do.
 */
export async function openAudioFile(
  name: string,
  source: ByteSource,
  decoders: CompressedDecoders,
): Promise<AudioReader> {
  const reader = await openAnyAudioFile(name, source, decoders);
  checkMonoOrStereo(reader.facts);
  return reader;
}

/** As `openAudioFile`, for any number of channels: to know the facts of a file that is no stem. */
export async function openAnyAudioFile(
  name: string,
  source: ByteSource,
  decoders: CompressedDecoders,
): Promise<AudioReader> {
  if (source.size === 0) throw new PlainError(name, 'The file is empty.', 'Export it again.');
  const head = await source.read(0, 64);
  const kind = kindOf(head);
  if (kind === null) {
    throw new PlainError(
      name,
      `This is ${contentOf(head)}, whatever its name says.`,
      'Export the stem as WAV, AIFF or FLAC.',
    );
  }
  const reader = await openKind(kind, name, source, decoders);
  const faults = wrongExtension(name, kind);
  if (faults.length === 0) return reader;
  return withFaults(reader, faults);
}

function openKind(kind: Kind, name: string, source: ByteSource, decoders: CompressedDecoders): Promise<AudioReader> {
  if (kind === 'wav') return openWav(name, source);
  if (kind === 'aiff') return openAiff(name, source);
  return openFlac(name, source, decoders);
}

function kindOf(head: Uint8Array): Kind | null {
  const text = textOf(head);
  if (/^(RIFF|RIFX|RF64|BW64)[^]{4}WAVE/.test(text)) return 'wav';
  if (/^FORM[^]{4}AIF[FC]/.test(text)) return 'aiff';
  return text.startsWith('fLaC') ? 'flac' : null;
}

/** What else a file can turn out to be, by its first bytes. */
function contentOf(head: Uint8Array): string {
  const text = textOf(head);
  if (text.startsWith('OggS')) return 'an Ogg file';
  if (text.startsWith('ID3') || (head[0] === 0xff && (head[1]! & 0xe0) === 0xe0))
    return 'an MPEG audio file (MP3 or AAC)';
  if (text.slice(4, 8) === 'ftyp') return 'an MP4 file';
  if (text.startsWith('caff')) return 'a Core Audio file';
  if (text.startsWith('riff')) return 'a Wave64 file';
  if (text.startsWith('PK')) return 'a ZIP archive';
  if (/^(RIFF|RIFX|RF64|BW64|FORM)/.test(text)) {
    return head.length < 12 ? 'the beginning of a sound file that is cut short' : 'a RIFF or IFF file without sound';
  }
  if (head.every((byte) => byte === 0)) return 'a file of zeros';
  return /^[\t\n\r -~\x80-\xff]*$/.test(text) ? 'a text file' : 'not a sound file';
}

function wrongExtension(name: string, kind: Kind): FileFault[] {
  const extension = /\.([^./]*)$/.exec(name)?.[1]?.toLowerCase() ?? '';
  if (EXTENSIONS[kind].includes(extension)) return [];
  const sentence = `The file is ${kind.toUpperCase()} by its content, but its name says ${extension === '' ? 'nothing' : `.${extension}`}.`;
  return [{ id: 'wrong-extension', sentence }];
}

function withFaults(reader: AudioReader, faults: readonly FileFault[]): AudioReader {
  return {
    facts: { ...reader.facts, faults: [...reader.facts.faults, ...faults] },
    readFrames: (from, count) => reader.readFrames(from, count),
    readBlock: (from, count) => reader.readBlock(from, count),
  };
}
