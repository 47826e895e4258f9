import type { ReportSentence } from './report-sentences.js';

const MOST_ROWS = 7;
const LEAST_ROWS = 2;
/** Lines of the sentences and rows of the ledger stand equally high; a page takes so many of both together. */
const LINES_AND_ROWS = 15;
/** Signs of a sentence on a line, and of the title, with some to spare. */
const SIGNS = 70;
const TITLE_SIGNS = 36;

/** Rows that the page has room for in each half of the ledger under these sentences; the proof has them all. */
export function ledgerRoom(title: string, sentences: readonly ReportSentence[]): number {
  const lines = sentences.reduce((sum, sentence) => sum + Math.ceil(signsOf(sentence) / SIGNS), 0);
  const titleLines = 2 * (Math.ceil(title.length / TITLE_SIGNS) - 1);
  return Math.max(LEAST_ROWS, Math.min(MOST_ROWS, LINES_AND_ROWS - lines - titleLines));
}

function signsOf(sentence: ReportSentence): number {
  return sentence.reduce((sum, part) => sum + (typeof part === 'string' ? part : part.strong).length, 0);
}
