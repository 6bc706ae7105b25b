// How long a diagnosis takes in one WebAssembly instance under node, against the command line's program, in
// seconds of processor time for the same population; and what the first share and the pooling cost.
//   node bench/wasm_diagnosis.mjs COLDWRIGHT COLDWRIGHT.wasm [POPULATION]
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { now, openCore, speech } from '../tests/wasm/core.mjs';

const [program, module, given] = process.argv.slice(2);
const population = Number(given ?? 160);
const demos = fileURLToPath(new URL('../data/demo/', import.meta.url));
const files = readdirSync(demos).filter((name) => /^\d/.test(name));

/** Processor time of this process, ms. */
function timed(run) {
  const from = process.cpuUsage();
  const result = run();
  const { user, system } = process.cpuUsage(from);
  return { ms: (user + system) / 1000, result };
}

function natively(file) {
  const run = spawnSync(
    'bash',
    [
      '-c',
      'TIMEFORMAT="%U %S"; time "$0" "$@" >/dev/null',
      program,
      'diagnose',
      '--json',
      '--population',
      String(population),
      demos + file,
    ],
    { encoding: 'utf8' },
  );
  const [user, system] = run.stderr.trim().split('\n').pop().split(' ').map(Number);
  return 1000 * (user + system);
}

const best = (of) => Math.min(of(), of(), of());
const core = openCore(module);
const call = (file) => JSON.parse(readFileSync(demos + file, 'utf8'));
const cold =
  timed(() => core.start(JSON.stringify({ call: call(files[0]) }), speech, now)).ms +
  timed(() => core.draw(0, 10, false)).ms +
  timed(() => core.answer()).ms;
console.log(`the first share in a fresh instance: ${cold.toFixed(0)} ms of processor time`);
let sum = 0;
let sumNative = 0;
for (const file of files) {
  const request = JSON.stringify({ call: call(file), population });
  const wasm = best(() => timed(() => core.ask('diagnose', request, speech)).ms);
  const native = best(() => natively(file));
  const small = best(
    () =>
      timed(() => {
        core.start(request, speech, now);
        core.take(core.draw(0, 10, false));
        core.answer();
      }).ms,
  );
  sum += wasm;
  sumNative += native;
  console.log(
    `${file}: wasm ${wasm.toFixed(0)} ms, native ${native.toFixed(0)} ms, ratio ${(wasm / native).toFixed(2)}; ` +
      `first share with its answer, warm, ${small.toFixed(0)} ms`,
  );
}
console.log(`all: ${(sum / sumNative).toFixed(2)} times native`);
