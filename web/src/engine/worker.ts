// A worker: one instance of the core, one job after the other.
import { Core } from './module';
import { feedFiles, readingShare } from './trace_files';
import type { Done, FromWorker, Growing, Job, ToWorker } from './messages';

let core: Core;
let stop: Int32Array | null = null;
let current = 0;
let told = 0;
let grows = 0; // the diagnosis that the core has open
let done = 0; // share of the job that came before what the core tells of

const say = (message: FromWorker, transfer: Transferable[] = []) => self.postMessage(message, { transfer });

// The core asks often; the page is told a few times a second.
function goOn(share: number): boolean {
  if (stop && Atomics.load(stop, 0) === current) return false;
  const now = performance.now();
  if (now - told > 100) {
    told = now;
    say({ kind: 'progress', id: current, share: done + (1 - done) * share });
  }
  return true;
}

/** Opens the diagnosis unless it is open; the Problem's text if it can't be. */
function open(of: Growing): string | null {
  if (grows === of.id) return null;
  const text = core.start(of.request, of.speech, of.now);
  if (!text.startsWith('{"ok":')) return text;
  grows = of.id;
  return null;
}

async function trace(job: Job & { kind: 'trace' }): Promise<Done> {
  const begun = core.traceStart(job.request, job.speech);
  if (!begun.startsWith('{"ok":')) return { text: begun, share: null };
  const text = await feedFiles(core, job.files, (share) => {
    const on = goOn(share);
    if (share >= readingShare) done = readingShare;
    return on;
  });
  return { text, share: null };
}

function run(job: Job): Done | Promise<Done> {
  if (job.kind === 'trace') return trace(job);
  if (job.kind === 'ask') return { text: core.ask(job.name, job.request, job.speech), share: null };
  const problem = open(job.of);
  if (problem !== null) return { text: problem, share: null };
  if (job.kind === 'pool') {
    for (const share of job.shares)
      if (!core.take(new Uint8Array(share))) throw new Error('a share of another diagnosis');
    return { text: core.answer(), share: null };
  }
  const share = core.draw(job.which, job.population, job.pairs);
  if (share.length === 0) return { text: '', share: null }; // it was told to stop
  // This pool is the worker's own and only ever holds the one share.
  const text = job.answer && core.take(share) ? core.answer() : '';
  return { text, share: share.buffer };
}

self.onmessage = async ({ data }: MessageEvent<ToWorker>) => {
  if (data.kind === 'open') {
    stop = data.stop ? new Int32Array(data.stop) : null;
    core = new Core(data.module, goOn);
    say({ kind: 'ready' });
    return;
  }
  current = data.id;
  done = 0;
  try {
    const result = await run(data.job);
    say({ kind: 'done', id: data.id, ...result }, result.share ? [result.share] : []);
  } catch (error) {
    say({ kind: 'broke', id: data.id, why: String(error) });
  }
};
