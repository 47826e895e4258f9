/** Text as files of this kind hold it: one byte, one character (ISO 8859-1), so that nothing is lost either way. */
export function textOf(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += String.fromCharCode(byte);
  return text;
}

/** The bytes of a text; what is beyond one byte becomes `?`. */
export function bytesOf(text: string): Uint8Array {
  return Uint8Array.from(text, (character) => {
    const code = character.codePointAt(0)!;
    return code < 256 ? code : 63;
  });
}

/** Text up to the first NUL. */
export function terminatedText(bytes: Uint8Array): string {
  const end = bytes.indexOf(0);
  return textOf(end < 0 ? bytes : bytes.subarray(0, end));
}

export function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}
