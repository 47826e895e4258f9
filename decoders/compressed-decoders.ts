import type { CompressedDecoders } from '../core/audio-file/compressed-decoders.js';
import { FlacStream } from './flac-stream.js';

/** The bundled decoders, as the port of `core/audio-file` wants them. */
export const compressedDecoders: CompressedDecoders = {
  openFlac: (name, source, info) => FlacStream.open(name, source, info),
};
