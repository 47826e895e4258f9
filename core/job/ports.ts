import type { ByteSink, ByteSource } from '../audio-file/byte-source.js';
import type { SolveProgress } from '../solve/solve-watch.js';

/** One entry of the song folder. Names are relative, with `/` between parts. */
export interface FolderEntry {
  readonly name: string;
  readonly kind: 'file' | 'folder' | 'other';
  readonly size: number;
}

/** The song folder, as any host gives it: a disk, a browser's directory handle, a map in a test. */
export interface SongFolder {
  /** How the folder is called on screen and in messages. */
  readonly name: string;
  /** The entries of the folder itself, not of its subfolders, sorted by name. */
  list(): Promise<readonly FolderEntry[]>;
  /** @throws PlainError where the file cannot be read. */
  open(name: string): Promise<ByteSource>;
  /**
   * A new file at a relative path, subfolders made as needed: written beside, flushed, renamed on `finish`.
   * @throws PlainError where it stands already (unless `replace`), or the disk is full or write-protected.
   */
  create(name: string, replace?: 'replace'): Promise<ByteSink>;
  /** Whether a file stands at a relative path, and how large it is. */
  sizeOf(name: string): Promise<number | null>;
}

/**
 * Progress of long work, for a terminal or a screen: `done` of `total` in units of the host's choosing; while a treatment is
 * solved also which stage is under way and the best so far.
 */
export interface ProgressListener {
  (what: string, done: number, total: number, solving?: SolveProgress): void;
}

/** SHA-256 of bytes given in blocks, as hexadecimal: each host has its own fast one. */
export interface Fingerprinter {
  (source: ByteSource): Promise<string>;
}
