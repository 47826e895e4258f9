/**
 * Calls `startSafely` where sound may come back louder, or on another device, than it was left: the audio was interrupted or
 * suspended and runs again, the page was frozen or kept aside and is back, or an audio device came or went.
 * @returns what ends it.
 */
export function watchForSafeStart(context: AudioContext, startSafely: () => void): () => void {
  const ends: (() => void)[] = [];
  const listen = (target: EventTarget | undefined, name: string, act: (event: Event) => void) => {
    target?.addEventListener(name, act);
    ends.push(() => target?.removeEventListener(name, act));
  };
  let rested = false;
  listen(context, 'statechange', () => {
    if (context.state === 'running' && rested) startSafely();
    rested = context.state !== 'running';
  });
  listen(context, 'sinkchange', startSafely);
  // absent where the page is not served securely
  listen(navigator.mediaDevices as MediaDevices | undefined, 'devicechange', startSafely);
  listen(document, 'resume', startSafely);
  listen(window, 'pageshow', (event) => {
    if ((event as PageTransitionEvent).persisted) startSafely();
  });
  return () => ends.forEach((end) => end());
}
