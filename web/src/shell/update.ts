// The service worker: keeps the whole app for use without a network. A new version waits until the person
// takes it from the list of calls, so it never interrupts a call.
import { signal } from '@preact/signals';

export const updateWaiting = signal<ServiceWorker | null>(null);
export const offlineReady = signal(false);

export async function keepOffline(): Promise<void> {
  if (!('serviceWorker' in navigator) || !import.meta.env.PROD) return;
  const registration = await navigator.serviceWorker.register('/sw.js');
  const look = () => {
    if (registration.waiting && registration.active) updateWaiting.value = registration.waiting;
  };
  look();
  registration.addEventListener('updatefound', () => {
    registration.installing?.addEventListener('statechange', look);
  });
  await navigator.serviceWorker.ready;
  offlineReady.value = true;
}

/** Takes the waiting version; the page starts again with it, and finds every call as it was. */
export function takeUpdate(): void {
  navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
  updateWaiting.value?.postMessage({ type: 'SKIP_WAITING' });
}
