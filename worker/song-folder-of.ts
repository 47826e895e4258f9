import type { SongFolder } from '../core/job/ports.js';
import type { SongSource } from '../protocol/song-source.js';
import { demoSource } from './demo-source.js';
import { DirectoryFolder } from './directory-folder.js';
import { DroppedFolder } from './dropped-folder.js';

/** The song's folder, wherever it comes from. */
export async function songFolderOf(source: SongSource): Promise<SongFolder> {
  if (source.kind === 'folder') return new DirectoryFolder(source.handle);
  const { name, files } = source.kind === 'files' ? source : await demoSource();
  return new DroppedFolder(name, files);
}
