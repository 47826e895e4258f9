import assert from 'node:assert/strict';
import { test } from 'node:test';
import { STAGES } from '../../core/treatment/stage-registry.js';
import { parseWish } from '../../core/wishes/wish-text.js';
import { wishRange } from './wish-range.js';
import { wishSentence, withLimit, type SentencePiece } from './wish-sentence.js';

const read = (pieces: readonly SentencePiece[]): string =>
  pieces.map((piece) => ('text' in piece ? piece.text : `[${piece.limit}]`)).join('');

test('a wish reads as a sentence with its limits as blanks', () => {
  const wish = parseWish('clearance.share2dB', '>= 90 %');
  assert.equal(read(wishSentence(wish, { name: 'share' })), '[low] of hits at least 2\u00a0dB clear of the bass.');
  const range = parseWish('steady.loudNoteReduction_dB', '3..5');
  assert.equal(read(wishSentence(range, { name: '' })), 'Hold the loudest notes back by [low] to [high].');
});

test('a wish whose limits do not fit our sentence, or that we do not know, is said plainly from its declaration', () => {
  const open = parseWish('steady.loudNoteReduction_dB', '>= 3');
  assert.equal(read(wishSentence(open, { name: 'reduction' })), 'Reduction of [low] or more.');
  const unknown = { statistic: 'new.figure_dB', low: null, high: 2 };
  assert.equal(read(wishSentence(unknown, { name: 'new figure' })), 'New figure of [high] or less.');
});

test('every stage that declares a wish gives a sentence with a blank for each of its limits', () => {
  for (const { wish } of STAGES) {
    if (wish === null) continue;
    const parsed = parseWish(wish.statistic, wish.default);
    const limits = wishSentence(parsed, wish).filter((piece) => 'limit' in piece).length;
    assert.equal(limits, (parsed.low === null ? 0 : 1) + (parsed.high === null ? 0 : 1), wish.statistic);
  }
});

test('a limit that is pushed past the other takes it along', () => {
  const wish = { statistic: 's', low: 3, high: 5 };
  assert.deepEqual(withLimit(wish, 'low', 6), { statistic: 's', low: 6, high: 6 });
  assert.deepEqual(withLimit(wish, 'high', 4), { statistic: 's', low: 3, high: 4 });
  assert.deepEqual(withLimit({ ...wish, high: null }, 'low', 6), { statistic: 's', low: 6, high: null });
});

test('a share ranges from nothing to all; a level reaches below 0 only where its values lie there', () => {
  const wish = (low: number | null, high: number | null) => ({ statistic: 's', low, high });
  assert.deepEqual(wishRange(wish(0.9, null), '%', []), { min: 0, max: 1, scale: 'linear' });
  assert.deepEqual(wishRange(wish(-14, null), 'LU', [-17]), { min: -34, max: 0, scale: 'linear' });
  assert.deepEqual(wishRange(wish(null, 1), 'dB', [2]), { min: 0, max: 12, scale: 'linear' });
});
