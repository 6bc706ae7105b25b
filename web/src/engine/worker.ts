// A worker: one instance of the core, one job after the other.
import { Core } from './module';
import type { FromWorker, Job, ToWorker } from './messages';

let core: Core;
let stop: Int32Array | null = null;
let current = 0;
let told = 0;

const say = (message: FromWorker) => self.postMessage(message);

// The core asks often; the page is told a few times a second.
function goOn(share: number): boolean {
  if (stop && Atomics.load(stop, 0) === current) return false;
  const now = performance.now();
  if (now - told > 100) {
    told = now;
    say({ kind: 'progress', id: current, share });
  }
  return true;
}

function run(job: Job): string {
  return core.ask(job.name, job.request, job.speech);
}

self.onmessage = ({ data }: MessageEvent<ToWorker>) => {
  if (data.kind === 'open') {
    stop = data.stop ? new Int32Array(data.stop) : null;
    core = new Core(data.module, goOn);
    say({ kind: 'ready' });
    return;
  }
  current = data.id;
  try {
    say({ kind: 'done', id: data.id, text: run(data.job) });
  } catch (error) {
    say({ kind: 'broke', id: data.id, why: String(error) });
  }
};
