/**
 * The words of a file name: `01_KickIn-L.wav` gives `01 kick in l`. Folder and extension go, accents go, capitals begin a word
 * (`BassDrum`, `OHLeft`), and a number stands by itself (`808Kick`, `2bus`). Words are in lower case.
 */
export function fileNameWords(file: string): string[] {
  const name = file.slice(file.lastIndexOf('/') + 1).replace(/\.[A-Za-z0-9]{1,5}$/, '');
  const parts = withoutAccents(name)
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .replace(/(\p{Lu})(\p{Lu}\p{Ll})/gu, '$1 $2')
    .match(/\p{L}+|\p{N}+|[&+]/gu);
  return (parts ?? []).map((part) => part.toLowerCase());
}

/** Takes Latin accents away and leaves other scripts whole: a Japanese voicing mark makes another word, an accent does not. */
export function withoutAccents(text: string): string {
  return text
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .normalize('NFC');
}
