/**
 * UTF-8 both ways (RFC 3629), because the core knows no host's own coder. Bytes that are no UTF-8 become U+FFFD.
 */
export function utf8_to_text(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length;) {
    const first = bytes[at]!;
    const length = first < 0x80 ? 1 : first < 0xc2 ? 0 : first < 0xe0 ? 2 : first < 0xf0 ? 3 : first < 0xf5 ? 4 : 0;
    const point = length === 0 ? -1 : codePointAt(bytes, at, length);
    if (point < 0) {
      text += '\uFFFD';
      at += 1;
    } else {
      text += String.fromCodePoint(point);
      at += length;
    }
  }
  return text;
}

/** The code point of a sequence, or -1 where it is cut short, overlong, a surrogate or past U+10FFFF. */
function codePointAt(bytes: Uint8Array, at: number, length: number): number {
  const first = bytes[at]!;
  if (length === 1) return first;
  let point = first & (0xff >> (length + 1));
  for (let i = 1; i < length; i++) {
    const next = bytes[at + i];
    if (next === undefined || (next & 0xc0) !== 0x80) return -1;
    point = (point << 6) | (next & 0x3f);
  }
  const overlong = (length === 3 && point < 0x800) || (length === 4 && point < 0x10000);
  const surrogate = point >= 0xd800 && point <= 0xdfff;
  return overlong || surrogate || point > 0x10ffff ? -1 : point;
}

export function text_to_utf8(text: string): Uint8Array {
  const bytes: number[] = [];
  for (const character of text) {
    const point = character.codePointAt(0)!;
    const safe = point >= 0xd800 && point <= 0xdfff ? 0xfffd : point;
    if (safe < 0x80) bytes.push(safe);
    else if (safe < 0x800) bytes.push(0xc0 | (safe >> 6), 0x80 | (safe & 0x3f));
    else if (safe < 0x10000) bytes.push(0xe0 | (safe >> 12), 0x80 | ((safe >> 6) & 0x3f), 0x80 | (safe & 0x3f));
    else {
      bytes.push(0xf0 | (safe >> 18), 0x80 | ((safe >> 12) & 0x3f), 0x80 | ((safe >> 6) & 0x3f), 0x80 | (safe & 0x3f));
    }
  }
  return Uint8Array.from(bytes);
}
