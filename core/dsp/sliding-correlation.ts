import { ComplexFft } from './fft.js';

/**
 * Correlation of a model with every place of a signal that holds it whole, c[n] = sum_k model[k] samples[n + k],
 * n = 0..samples.length - model.length. By overlap-save, two blocks in one complex transform (a real model keeps them apart).
 * Rounding: about 1e-15 of the largest possible value.
 * Source: T. G. Stockham, "High-Speed Convolution and Correlation", AFIPS Spring Joint Computer Conference, 1966.
 *
 * @returns an empty array where the signal is shorter than the model.
 */
export function slidingCorrelation(samples: Float64Array, model: Float64Array): Float64Array {
  const output = new Float64Array(Math.max(0, samples.length - model.length + 1));
  let size = 16;
  while (size < 6 * model.length) size *= 2;
  const hop = size - model.length + 1;
  const fft = new ComplexFft(size);
  const modelRe = new Float64Array(size);
  const modelIm = new Float64Array(size);
  modelRe.set(model);
  fft.forward(modelRe, modelIm);
  const re = new Float64Array(size);
  const im = new Float64Array(size);
  for (let from = 0; from < output.length; from += 2 * hop) {
    load(samples, from, re);
    load(samples, from + hop, im);
    fft.forward(re, im);
    for (let k = 0; k < size; k++) {
      const a = re[k]!;
      const b = im[k]!;
      re[k] = a * modelRe[k]! + b * modelIm[k]!;
      im[k] = b * modelRe[k]! - a * modelIm[k]!;
    }
    fft.inverse(re, im);
    store(re, output, from, hop);
    store(im, output, from + hop, hop);
  }
  return output;
}

function load(samples: Float64Array, from: number, block: Float64Array): void {
  const part = samples.subarray(from, from + block.length);
  block.set(part);
  block.fill(0, part.length);
}

function store(block: Float64Array, output: Float64Array, from: number, hop: number): void {
  if (from < output.length) output.set(block.subarray(0, Math.min(hop, output.length - from)), from);
}
