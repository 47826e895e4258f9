/** What befalls the sound from outside. */
export interface ContextEars {
  /** Sound may come back louder, or on another device, than it was left. */
  onChanged(): void;
  /** The browser has taken the sound away; it can be resumed. */
  onInterrupted(): void;
  /** The way out is gone for good: only another context can sound. */
  onLost(): void;
}

/**
 * Tells where the audio was interrupted or suspended and runs again, the page was frozen or kept aside and is back, or an audio
 * device came or went; and where the sound was taken away, for a while or for good.
 * @returns what ends it.
 */
export function watchContext(context: AudioContext, { onChanged, onInterrupted, onLost }: ContextEars): () => void {
  const ends: (() => void)[] = [];
  const listen = (target: EventTarget | undefined, name: string, act: (event: Event) => void) => {
    target?.addEventListener(name, act);
    ends.push(() => target?.removeEventListener(name, act));
  };
  let rested = false;
  listen(context, 'statechange', () => {
    if (context.state === 'closed') return onLost();
    if (context.state === 'running' && rested) onChanged();
    if (context.state !== 'running' && !rested) onInterrupted();
    rested = context.state !== 'running';
  });
  // the device that plays has failed
  listen(context, 'error', onLost);
  listen(context, 'sinkchange', onChanged);
  // absent where the page is not served securely
  listen(navigator.mediaDevices as MediaDevices | undefined, 'devicechange', onChanged);
  listen(document, 'resume', onChanged);
  listen(window, 'pageshow', (event) => {
    if ((event as PageTransitionEvent).persisted) onChanged();
  });
  return () => ends.forEach((end) => end());
}
