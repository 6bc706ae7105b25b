// The browser compiles the core's busiest parts better once it has seen them run. A small diagnosis of a demo
// call while nobody waits lets the first real answer come as soon as later ones.
import { demos } from '../rooms/calls/demos';
import { app } from './app';

const quiet = 800; // ms after the first screen

export function warmUp(): void {
  setTimeout(() => {
    const call = demos[0] as unknown as { call: string; entries: never[] } | undefined;
    if (!call || document.visibilityState === 'hidden') return;
    const enough = new AbortController();
    const request = { call, population: 40 } as Parameters<typeof app.engine.diagnose>[0];
    app.engine.diagnose(request, () => {}, { signal: enough.signal }).catch(() => {});
    // Whoever comes to ask something of their own doesn't wait for it.
    addEventListener('hashchange', () => enough.abort(), { once: true });
  }, quiet);
}
