/** Draws the icons of the installed page from the mark: three uprights, three levels, as in web/public/icon.svg. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { crc32, deflateSync } from 'node:zlib';
import { root } from './run-step.mjs';

const PAPER = [0xf2, 0xf4, 0xf0];
/** Left, top, right, bottom in units of the mark, 32 to a side; later ones lie over earlier ones. */
const BARS = [
  [
    [0xa3, 0x3a, 0x14],
    [7.5, 6, 10.5, 20],
  ],
  [
    [0xa3, 0x3a, 0x14],
    [14.5, 9, 17.5, 20],
  ],
  [
    [0xa3, 0x3a, 0x14],
    [21.5, 6, 24.5, 20],
  ],
  [
    [0x0b, 0x45, 0x60],
    [4, 18.75, 28, 21.25],
  ],
  [
    [0x0b, 0x45, 0x60],
    [4, 22.75, 28, 25.25],
  ],
  [
    [0x0b, 0x45, 0x60],
    [4, 26.75, 28, 29.25],
  ],
];
/** A maskable icon may be cut to a circle: the mark stays within the middle four fifths. */
const SHRUNK = 0.72;

for (const size of [192, 512]) {
  writeFileSync(join(root, `web/public/icon-${size}.png`), png(size, 1));
  writeFileSync(join(root, `web/public/icon-${size}-maskable.png`), png(size, SHRUNK));
}

function png(size, shrink) {
  const rows = Buffer.alloc(size * (1 + 3 * size));
  for (let y = 0; y < size; y++) {
    for (let x = 0; x < size; x++) {
      const colour = colourAt(x, y, size, shrink);
      for (let c = 0; c < 3; c++) rows[y * (1 + 3 * size) + 1 + 3 * x + c] = colour[c];
    }
  }
  const head = Buffer.alloc(13);
  head.writeUInt32BE(size, 0);
  head.writeUInt32BE(size, 4);
  head.set([8, 2, 0, 0, 0], 8);
  const signature = Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]);
  return Buffer.concat([
    signature,
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(rows, { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** The share of the pixel that each bar covers, so that edges are smooth. */
function colourAt(x, y, size, shrink) {
  const unit = 32 / size / shrink;
  const from = (pixel) => (pixel - size / 2) * unit + 16;
  const [left, top] = [from(x), from(y)];
  let colour = PAPER;
  for (const [ink, [l, t, r, b]] of BARS) {
    const wide = Math.max(0, Math.min(r, left + unit) - Math.max(l, left)) / unit;
    const high = Math.max(0, Math.min(b, top + unit) - Math.max(t, top)) / unit;
    colour = colour.map((value, c) => value + wide * high * (ink[c] - value));
  }
  return colour.map(Math.round);
}

function chunk(type, data) {
  const named = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(data.length);
  const check = Buffer.alloc(4);
  check.writeUInt32BE(crc32(named));
  return Buffer.concat([length, named, check]);
}
