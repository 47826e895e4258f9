/** What an AudioWorkletGlobalScope offers; the compiler's DOM library has none of it. Web Audio API, W3C. */
declare abstract class AudioWorkletProcessor {
  readonly port: WorkletPort;
  constructor(options?: { processorOptions?: unknown });
  abstract process(
    inputs: readonly (readonly Float32Array[])[],
    outputs: readonly (readonly Float32Array[])[],
    parameters: Readonly<Record<string, Float32Array>>,
  ): boolean;
}
interface WorkletPort {
  onmessage: ((event: { readonly data: unknown }) => void) | null;
  postMessage(message: unknown, transfer?: readonly ArrayBufferLike[]): void;
}
declare function registerProcessor(
  name: string,
  processor: new (options: { processorOptions?: unknown }) => AudioWorkletProcessor,
): void;
declare const sampleRate: number;
declare const currentFrame: number;
