/** Whether a pattern gives every print a file name of its own that any disk takes. */
export function isNamePattern(pattern: string): boolean {
  return pattern.includes('{name}') && !/[\\/:*?"<>|]|[.\s]$|^[.\s]/.test(pattern.replaceAll('{name}', 'n'));
}
