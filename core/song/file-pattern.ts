/**
 * File names picked by a pattern: `*` stands for any run of characters, `?` for one, everything else for itself, capitals and
 * small letters alike. @returns the test for one name.
 */
export function filePattern(pattern: string): (file: string) => boolean {
  const source = [...pattern]
    .map((letter) => (letter === '*' ? '.*' : letter === '?' ? '.' : letter.replace(/[\\^$.*+?()[\]{}|/]/u, '\\$&')))
    .join('');
  const expression = new RegExp(`^${source}$`, 'isu');
  return (file) => expression.test(file);
}

/** A name as one word of a command line, for a line that can be copied into a shell. */
export function shellWord(name: string): string {
  if (/^[\w.,:/@%+=-]+$/.test(name) && !name.startsWith('-')) return name;
  if (!/["$`\\!\n]/.test(name)) return `"${name}"`;
  return `'${name.replaceAll("'", "'\\''")}'`;
}
