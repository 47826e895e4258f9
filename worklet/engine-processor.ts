import { ENGINE_NAME, type ToEngine } from '../protocol/engine-messages.js';
import { LiveEngine } from './live-engine.js';

/** Frames between two reports of where the sound is: about 40 ms. */
const REPORT_EVERY = Math.round(0.04 * sampleRate);

/** The shell of the engine on the audio thread. */
class EngineProcessor extends AudioWorkletProcessor {
  private readonly engine: LiveEngine;
  private sinceReport = 0;

  constructor() {
    super();
    this.engine = new LiveEngine(sampleRate, (message) => this.port.postMessage(message));
    this.port.onmessage = ({ data }) => this.take(data as ToEngine);
  }

  private take(message: ToEngine): void {
    try {
      this.engine.take(message);
    } catch (error) {
      this.port.postMessage({ kind: 'refused', sentence: error instanceof Error ? error.message : String(error) });
    }
  }

  override process(_inputs: unknown, outputs: readonly (readonly Float32Array[])[]): boolean {
    const frameCount = outputs[0]![0]!.length;
    this.engine.process(outputs, frameCount);
    this.sinceReport += frameCount;
    if (this.sinceReport >= REPORT_EVERY) {
      this.sinceReport = 0;
      this.engine.report();
    }
    return true;
  }
}

registerProcessor(ENGINE_NAME, EngineProcessor);
