/** Where a song comes from. */
export type SongSource =
  | { readonly kind: 'demo' }
  | { readonly kind: 'files'; readonly name: string; readonly files: readonly SourceFile[] }
  | { readonly kind: 'folder'; readonly name: string; readonly handle: FileSystemDirectoryHandle };

/** A file that was dropped or chosen, by its name in the song's folder. */
export interface SourceFile {
  readonly name: string;
  readonly file: File;
}
