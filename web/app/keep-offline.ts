/**
 * Keeps the page in the browser, so that it opens without a network, and looks once, while it loads, whether there is a newer
 * build. Where the browser has no place for it, it goes on without.
 */
export function keepOffline(): void {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return;
  void keep().catch(() => undefined);
}

async function keep(): Promise<void> {
  const kept = await navigator.serviceWorker.register('./service-worker.js');
  if (kept.active !== null) await kept.update();
}
