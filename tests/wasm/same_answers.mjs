// The same requests to the command line's program and to the WebAssembly module: the answers agree.
//   node tests/wasm/same_answers.mjs COLDWRIGHT COLDWRIGHT.wasm
//
// Texts and words must be equal; numbers agree to 1e-9 of themselves, since the two mathematics libraries differ
// by up to 3 units in the last place (exp, pow, log, tanh, cbrt: measured on 200,000 arguments each) and the
// solvers stop at 1e-10. A diagnosis draws machines, and a last digit may send one solver another way; what is
// shown of it is held to 1e-6, far below what another seed changes.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openCore, speech } from './core.mjs';

const [program, module] = process.argv.slice(2);
const core = openCore(module);
const demos = new URL('../../data/demo/', import.meta.url);
const folder = mkdtempSync(join(tmpdir(), 'coldwright-'));
let wrong = 0;
let numbers = 0;
let worst = 0;

function complain(what, where, one, other) {
  if (++wrong <= 20)
    console.error(`${what}: ${where}: natively ${JSON.stringify(one)}, here ${JSON.stringify(other)}`);
}

function compare(what, one, other, tolerance, where = '') {
  if (typeof one === 'number' && typeof other === 'number') {
    ++numbers;
    const off = Math.abs(one - other) / Math.max(Math.abs(one), Math.abs(other), tolerance.floor);
    worst = Math.max(worst, off / tolerance.relative);
    if (!(off <= tolerance.relative)) complain(what, where, one, other);
  } else if (one !== null && other !== null && typeof one === 'object' && typeof other === 'object') {
    const keys = new Set([...Object.keys(one), ...Object.keys(other)]);
    for (const key of keys) compare(what, one[key], other[key], tolerance, `${where}.${key}`);
  } else if (one !== other) {
    complain(what, where, one, other);
  }
}

function natively(...words) {
  return JSON.parse(
    execFileSync(program, [...words, '--json'], { encoding: 'utf8', maxBuffer: 1 << 27, stdio: 'pipe' }),
  );
}

function here(name, request) {
  const told = JSON.parse(core.ask(name, JSON.stringify(request), speech));
  if (!told.ok) throw new Error(`${name}: ${JSON.stringify(told.problem)}`);
  return told.ok;
}

const exact = { relative: 1e-9, floor: 1e-6 };
for (const refrigerant of ['R290', 'R600a', 'R134a', 'R404A', 'R744']) {
  compare(
    'saturation',
    natively('saturation', refrigerant, '-10F', '100psig'),
    here('saturation', { refrigerant, at: ['-10F', '100psig'] }),
    exact,
  );
  compare('refrigerant', natively('refrigerant', refrigerant), here('refrigerant', { refrigerant }), exact);
}
compare('refrigerants', natively('refrigerants'), here('refrigerants', {}), exact);
compare(
  'leak',
  natively('leak', 'R407C', '--lost', '30%'),
  here('leak', { refrigerant: 'R407C', lost: '30%' }),
  { relative: 1e-6, floor: 1e-6 },
);

// A trace: the same file read natively from the disk and here out of a request.
const logged = Array.from({ length: 720 }, (_, i) => {
  const clock = `${String(Math.floor(i / 60)).padStart(2, '0')}:${String(i % 60).padStart(2, '0')}`;
  return `2026-03-04 ${clock},${i % 45 < 16 ? 95 + (i % 3) : 1.5}\n`;
}).join('');
const log = join(folder, 'log.csv');
writeFileSync(log, `time,power (W)\n${logged}`);
const logText = readFileSync(log, 'utf8');
compare('trace_layout', natively('trace_layout', log), here('trace_layout', { text: logText, name: 'log.csv' }), exact);
compare('trace', natively('trace', log), here('trace', { files: [{ name: 'log.csv', text: logText }] }), {
  relative: 1e-6,
  floor: 1e-6,
});

// The procedures of the repair, their draws with a fixed seed: solvers and marches, so as close as a leak's.
const near = { relative: 1e-6, floor: 1e-6 };
const procedures = {
  flammable: { refrigerant: 'R290', charge: '150 g', area: '12 m2' },
  tracer: { refrigerant: 'R290', pressure: '145 psig', volume: '2.5 L', t: '68 F' },
  capillary: { bore: '0.031 in', length: '8 ft', supply: '150 psig', flow: '3 L/min', t: '70 F' },
  tube: {
    refrigerant: 'R290',
    bore: '0.8 mm',
    length: '2.4 m',
    condensing: '42 C',
    evaporating: '-8 C',
    'new-bore': '0.9 mm',
  },
  evacuation: { refrigerant: 'R290', volume: '2.5 L', cores: 'out' },
};
for (const [name, options] of Object.entries(procedures)) {
  const words = Object.entries(options).flatMap(([key, text]) => [`--${key}`, text]);
  const request = Object.fromEntries(
    Object.entries(options).map(([key, text]) => [key.replace('-', '_'), text]),
  );
  compare(name, natively(name, ...words), here(name, request), near);
}
for (const [name, readings] of Object.entries({
  rise: [
    ['0 min', '500 micron'],
    ['5 min', '900 micron'],
    ['10 min', '1150 micron'],
    ['15 min', '1250 micron'],
  ],
  tightness: [
    ['0 min', '150 psig'],
    ['30 min', '149.6 psig'],
  ],
})) {
  const more = name === 'tightness' ? { volume: '2.5 L' } : {};
  compare(
    name,
    natively(
      name,
      '--refrigerant',
      'R290',
      ...Object.entries(more).flatMap(([key, text]) => [`--${key}`, text]),
      ...readings.flatMap((r) => ['--reading', r.join(', ')]),
    ),
    here(name, {
      refrigerant: 'R290',
      ...more,
      readings: readings.map(([after, pressure]) => ({ after, pressure })),
    }),
    near,
  );
}

const drawn = { relative: 1e-6, floor: 0.1 };
const finished = new URL('../../data/examples/finished-call.json', import.meta.url).pathname;
for (const [name, more] of Object.entries({
  proof: {},
  charging: {},
  rise: {},
  tightness: {},
  opening: {},
  bring: {},
  worth: {
    labour_rate: '95 EUR',
    hours: '3.5 h',
    parts_cost: '180 EUR',
    new_price: '2400 EUR',
    energy_price: '0.28 EUR',
  },
  plan: {},
})) {
  const words = Object.entries(more).flatMap(([key, text]) => [`--${key.replace('_', '-')}`, text]);
  compare(
    `${name} of a finished call`,
    natively(name, finished, ...words),
    here(name, { call_text: readFileSync(finished, 'utf8'), ...more }),
    drawn,
  );
}
// Practice: what a machine shows agrees as closely as a solver's answer; the debrief draws machines many times over.
for (const [level, seed] of [
  ['first', 1],
  ['working_day', 2],
  ['hard', 3],
]) {
  const words = ['--level', level, '--seed', String(seed)];
  const machine = { level, seed };
  const actions = ['compressor', 'condenser_middle_temp', 'suction_pressure'];
  compare(`practice ${level}`, natively('practice', ...words), here('practice_call', machine), near);
  compare(
    `practice ${level}, steps`,
    natively('practice', ...actions, ...words),
    here('practice_step', { ...machine, actions }),
    near,
  );
}
{
  const more = { level: 'first', seed: 1, population: 16 };
  const one = natively(
    'practice',
    'compressor',
    '--level',
    'first',
    '--seed',
    '1',
    '--population',
    '16',
    '--decide',
    'sound',
  );
  const other = here('practice_debrief', { ...more, actions: ['compressor'], decision: 'sound' });
  for (const part of ['truth', 'verdict', 'cost', 'sign', 'remember'])
    compare(`debrief: ${part}`, one[part], other[part], drawn);
  compare(
    'debrief: best way',
    one.best.steps.map((s) => s.action),
    other.best.steps.map((s) => s.action),
    exact,
  );
}
for (const file of readdirSync(demos).filter((name) => /^\d/.test(name))) {
  const path = join(folder, file);
  const text = readFileSync(new URL(file, demos), 'utf8');
  writeFileSync(path, text);
  const one = natively('diagnose', path, '--population', '60');
  const other = here('diagnose', { call_text: text, population: 60 });
  const causes = (answer) => answer.causes.filter((c) => c.probability > 0.01).map((c) => c.cause);
  compare(`${file}: causes`, causes(one), causes(other), exact);
  for (const cause of one.causes) {
    const twin = other.causes.find((c) => c.cause === cause.cause);
    if (!twin) complain(file, cause.cause, cause.probability, null);
    else if (Math.abs(twin.probability - cause.probability) > 1e-6)
      complain(file, cause.cause, cause.probability, twin.probability);
  }
  compare(`${file}: unseen`, one.unseen, other.unseen, drawn);
  compare(`${file}: quality`, one.quality, other.quality, { relative: 1e-6, floor: 1 });
  const expected = natively('expect', path);
  compare(`${file}: expect`, expected.now, here('expect', { call_text: text }).now, drawn);
}
rmSync(folder, { recursive: true });
console.log(
  `${numbers} numbers compared, ${wrong} wrong; the worst at ${worst.toPrecision(2)} of what is allowed`,
);
if (numbers < 1000) throw new Error('hardly anything was compared');
process.exitCode = wrong ? 1 : 0;
