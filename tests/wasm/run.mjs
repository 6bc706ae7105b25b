// Runs one test program built for WebAssembly, with the source tree to read and nothing to write.
//   node tests/wasm/run.mjs PROGRAM.wasm [GoogleTest's arguments]
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { WASI } from 'node:wasi';

const [program, ...rest] = process.argv.slice(2);
const top = fileURLToPath(new URL('../../', import.meta.url)).replace(/\/$/, '');
const wasi = new WASI({
  version: 'preview1',
  args: [program, ...rest],
  env: Object.fromEntries(Object.entries(process.env).filter(([name]) => name.startsWith('GTEST_'))),
  preopens: { [top]: top },
  returnOnExit: true,
});
const module = await WebAssembly.compile(readFileSync(program));
process.exitCode = wasi.start(await WebAssembly.instantiate(module, wasi.getImportObject()));
