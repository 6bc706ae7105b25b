// The one store and the one engine of this page; set once by main.tsx before the first render.
import type { Engine } from '../engine/engine';
import type { Store } from '../store/store';

export const app = {} as { engine: Engine; store: Store };
