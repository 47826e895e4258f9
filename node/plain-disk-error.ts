import { PlainError } from '../core/units/plain-error.js';

/** What the system's error codes mean to an engineer, and what can be done. */
const MEANINGS: Readonly<Record<string, readonly [reason: string, remedy: string]>> = {
  ENOSPC: ['The disk is full.', 'Make room and run again; no half file was left.'],
  EDQUOT: ['Your share of the disk is used up.', 'Make room and run again; no half file was left.'],
  EFBIG: ['The file is larger than this disk allows.', 'Print to another disk; no half file was left.'],
  EACCES: ['You have no permission for it.', 'Change its permissions, or work on a copy.'],
  EPERM: ['The system does not allow it.', 'Change its permissions, or work on a copy.'],
  EROFS: ['The disk is write-protected.', 'Copy the song to a disk that can be written.'],
  ENOENT: ['There is no such file or folder.', 'Check the name.'],
  ENOTDIR: ['A part of this path is a file, not a folder.', 'Name the folder that holds the stems.'],
  EISDIR: ['This is a folder, not a file.', 'Rename the folder, or name the file in it.'],
  EEXIST: ['A file of this name stands there already.', 'Move it away or choose another name; it was not touched.'],
  ENAMETOOLONG: ['The name is too long for this disk.', 'Choose a shorter name.'],
  EMFILE: ['Too many files are open.', 'Close other programs and run again.'],
  ELOOP: ['The link leads back to itself.', 'Replace the link by the file.'],
  EIO: ['The disk reports a fault.', 'Copy the file from its backup and check the disk.'],
  EBUSY: ['Another program holds the file.', 'Close it there and run again.'],
};

/** @returns a PlainError for an error of the disk; an error that is plain already comes back as it is. */
export function plainDiskError(name: string, error: unknown): PlainError {
  if (error instanceof PlainError) return error;
  const code = codeOf(error);
  const meaning = MEANINGS[code];
  if (meaning !== undefined) return new PlainError(name, ...meaning);
  return new PlainError(name, `The disk refused it (${code || String(error)}).`, 'Check the disk and run again.');
}

export function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : '';
}
