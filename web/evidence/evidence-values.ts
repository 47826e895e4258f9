import type { Finding } from '../../core/findings/finding.js';

/** The numbers of a list in the evidence; what is null or no number is null, what is missing an empty list. */
export function numbersOf({ evidence }: Finding, key: string): (number | null)[] {
  const value = evidence[key];
  return Array.isArray(value) ? value.map((entry) => (typeof entry === 'number' ? entry : null)) : [];
}

export function textsOf({ evidence }: Finding, key: string): (string | null)[] {
  const value = evidence[key];
  return Array.isArray(value) ? value.map((entry) => (typeof entry === 'string' ? entry : null)) : [];
}

export function numberOf({ evidence }: Finding, key: string): number | null {
  const value = evidence[key];
  return typeof value === 'number' ? value : null;
}

export function textOf({ evidence }: Finding, key: string): string {
  const value = evidence[key];
  return typeof value === 'string' ? value : '';
}
