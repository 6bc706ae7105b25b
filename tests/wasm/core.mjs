// The core's module under node, spoken to as the app's workers do: web/src/engine/module.ts, whose types node
// strips itself.
import { readFileSync } from 'node:fs';
import { Core } from '../../web/src/engine/module.ts';

export const speech = { language: 'en', units: 'us' };
export const now = 1767225600; // 2026-01-01, any moment

export function openCore(path) {
  return new Core(new WebAssembly.Module(readFileSync(path)), () => true);
}
