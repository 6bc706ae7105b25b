// Compresses the built app beforehand, as small as it gets: NAME.br and NAME.gz beside NAME, for the server to send.
//   node tools/compress_assets.mjs FOLDER           writes them
//   node tools/compress_assets.mjs FOLDER --check   holds that a first visit costs no more than 3 MB
import { readdir, readFile, stat, writeFile } from 'node:fs/promises';
import { extname, join } from 'node:path';
import { promisify } from 'node:util';
import zlib from 'node:zlib';

const mostBytes = 3_000_000; // for all of the app, compressed
const smallest = 512; // below this a packet is a packet
const compressed = new Set(['.br', '.gz']);
const worthwhile = new Set(['.html', '.css', '.js', '.json', '.svg', '.wasm', '.webmanifest', '.txt', '.ttf']);

async function filesOf(folder) {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  return entries.filter((e) => e.isFile() && !e.name.startsWith('.')).map((e) => join(e.parentPath, e.name)).sort();
}

async function compress(file) {
  const bytes = await readFile(file);
  if (!worthwhile.has(extname(file)) || bytes.length < smallest) return;
  const quality = { [zlib.constants.BROTLI_PARAM_QUALITY]: 11, [zlib.constants.BROTLI_PARAM_SIZE_HINT]: bytes.length };
  const [br, gz] = await Promise.all([
    promisify(zlib.brotliCompress)(bytes, { params: quality }),
    promisify(zlib.gzip)(bytes, { level: 9 }),
  ]);
  if (br.length < bytes.length) await writeFile(`${file}.br`, br);
  if (gz.length < bytes.length) await writeFile(`${file}.gz`, gz);
}

async function weigh(files) {
  const size = new Map();
  for (const file of files) size.set(file, (await stat(file)).size);
  let total = 0;
  for (const [file, bytes] of size) {
    if (!compressed.has(extname(file))) total += size.get(`${file}.br`) ?? bytes;
  }
  return total;
}

const [folder, mode] = process.argv.slice(2);
if (!folder) throw new Error('the folder of the built app is needed');
if (mode !== '--check') {
  const files = (await filesOf(folder)).filter((file) => !compressed.has(extname(file)));
  await Promise.all(files.map(compress));
}
const files = await filesOf(folder);
const total = await weigh(files);
console.log(`${folder}: a first visit fetches ${(total / 1e6).toFixed(2)} MB at most, compressed`);
if (mode === '--check') {
  if (!files.some((file) => file.endsWith('.wasm.br'))) throw new Error('the WebAssembly module, compressed, is missing');
  if (total > mostBytes) throw new Error(`that is more than ${mostBytes / 1e6} MB`);
}
