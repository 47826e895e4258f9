import type { SongSource, SourceFile } from '../../protocol/job-messages.js';

/**
 * A song of files that were chosen or dropped. Of a chosen folder its own files count, not those of its subfolders; the song is
 * called like the folder, or like what the file names have in common.
 */
export function sourceOfFiles(files: readonly File[], folder: string | null = null): SongSource {
  const [first] = files;
  const root = folder ?? (first?.webkitRelativePath.split('/').slice(0, -1)[0] || null);
  const own: SourceFile[] = files
    .filter(({ webkitRelativePath }) => webkitRelativePath.split('/').length <= 2)
    .map((file) => ({ name: file.name, file }));
  return { kind: 'files', name: root ?? commonName(own.map(({ name }) => name)), files: own };
}

/** What file names begin with in common, without the separators at its end; `Song` where that is nothing. */
export function commonName(names: readonly string[]): string {
  const [first = ''] = names;
  let length = names.length > 1 ? first.length : 0;
  for (const name of names) {
    while (!name.startsWith(first.slice(0, length))) length -= 1;
  }
  const common = first.slice(0, length).replace(/[\s_\-.0-9]+$/, '');
  return common.length >= 3 ? common : 'Song';
}
