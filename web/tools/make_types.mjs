// TypeScript types of every request and answer, out of data/schemas: writes src/engine/use_cases.ts, or with
// --check says whether that file is up to date (engine/use_cases.test.ts asks).
//   node web/tools/make_types.mjs [--check]
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { compile } from 'json-schema-to-typescript';
import { format } from 'prettier';

const root = new URL('../../', import.meta.url);
const schemas = new URL('data/schemas/', root);
const output = new URL('web/src/engine/use_cases.ts', root);

const read = (name) => bare(JSON.parse(readFileSync(new URL(name, schemas), 'utf8')));
const pascal = (name) => name.replace(/(^|[_.\-])(\w)/g, (_, __, letter) => letter.toUpperCase());

// A reference with a description beside it would become a type of its own for every place it stands.
const bare = (node) =>
  Array.isArray(node)
    ? node.map(bare)
    : node && typeof node === 'object'
      ? '$ref' in node
        ? { $ref: node.$ref }
        : Object.fromEntries(Object.entries(node).map(([key, value]) => [key, bare(value)]))
      : node;

export async function makeTypes() {
  const files = readdirSync(schemas).sort();
  // A use case without an answer of its own is a procedure: all of those answer in one form.
  const ownAnswer = (name) => files.includes(`${name}.answer.json`);
  const names = files.filter((f) => f.endsWith('.request.json')).map((f) => f.replace('.request.json', ''));
  const defs = {};
  const define = (key, schema, title) => {
    const { $defs: own, ...rest } = schema;
    for (const [name, part] of Object.entries(own ?? {})) defs[name] = { ...part, title: pascal(name) };
    defs[key] = { ...rest, title };
  };
  for (const [name, part] of Object.entries(read('common.json').$defs))
    defs[name] = { ...part, title: pascal(name) };
  for (const name of names) {
    define(`${name}.request`, read(`${name}.request.json`), pascal(name) + 'Request');
    if (ownAnswer(name)) define(`${name}.answer`, read(`${name}.answer.json`), pascal(name) + 'Answer');
  }
  define('procedure.answer', read('procedure.answer.json'), 'ProcedureAnswer');
  const useCases = Object.fromEntries(
    names.map((name) => [
      name,
      {
        type: 'object',
        properties: {
          request: { $ref: `#/$defs/${name}.request` },
          answer: { $ref: `#/$defs/${ownAnswer(name) ? name : 'procedure'}.answer` },
        },
        required: ['request', 'answer'],
        additionalProperties: false,
      },
    ]),
  );
  const whole = {
    title: 'UseCases',
    description: 'Everything that can be asked, by name: what goes in and what comes out.',
    type: 'object',
    properties: useCases,
    required: names,
    additionalProperties: false,
    $defs: defs,
  };
  const types = await compile(whole, 'UseCases', {
    additionalProperties: false,
    bannerComment: '// Made by web/tools/make_types.mjs from data/schemas; not to be edited.',
    format: false,
    ignoreMinAndMaxItems: true,
  });
  return format(`${types}\nexport type UseCaseName = keyof UseCases;\n`, {
    parser: 'typescript',
    printWidth: 110,
    singleQuote: true,
  });
}

if (process.argv[1] === new URL(import.meta.url).pathname) {
  const made = await makeTypes();
  if (!process.argv.includes('--check')) {
    writeFileSync(output, made);
  } else if (readFileSync(output, 'utf8') !== made) {
    console.error(
      'web/src/engine/use_cases.ts is not what data/schemas say: run node web/tools/make_types.mjs',
    );
    process.exit(1);
  }
}
