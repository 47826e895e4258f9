/** A stem as far as it tells songs apart. */
export interface StemMark {
  readonly file: string;
  readonly size_bytes: number;
  /** Fingerprint of pieces spread over the file; null where it was not taken. */
  readonly sketch: string | null;
}

export interface MarkedSong {
  readonly name: string;
  readonly stems: readonly StemMark[];
}

/**
 * Whether two are the same song: of one name, and at least half of the stems, counted on the longer list, are the same files.
 * So a changed, added or dropped stem leaves the song what it is, and two songs of one name (also with equal file names) stay two.
 */
export function isSameSong(one: MarkedSong, other: MarkedSong): boolean {
  if (one.name !== other.name) return false;
  return 2 * sharedStems(one, other) >= Math.max(one.stems.length, other.stems.length, 1);
}

/** How many stems of one are the same files in the other: by fingerprint, else by name and size. */
export function sharedStems(one: MarkedSong, other: MarkedSong): number {
  return one.stems.filter((stem) => other.stems.some((candidate) => isSameFile(stem, candidate))).length;
}

function isSameFile(one: StemMark, other: StemMark): boolean {
  if (one.sketch !== null && other.sketch !== null) return one.sketch === other.sketch;
  return one.file === other.file && one.size_bytes === other.size_bytes;
}

/** The id of a song that is met for the first time: the same in every tab. It stays when stems change later. */
export function newSongId({ name, stems }: MarkedSong): string {
  const marks = stems.map(({ file, size_bytes, sketch }) => sketch?.slice(0, 10) ?? `${file} ${size_bytes}`);
  return `${name}: ${marks.sort().join(' ')}`;
}

/** The song among those that are kept that is this one: the one with most stems in common, null for none. */
export function keptAs<Kept extends MarkedSong>(song: MarkedSong, kept: readonly Kept[]): Kept | null {
  const same = kept.filter((one) => isSameSong(song, one));
  return same.sort((a, b) => sharedStems(song, b) - sharedStems(song, a))[0] ?? null;
}
