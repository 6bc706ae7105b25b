// The record's PDF, read back byte by byte: pages, letters, title, tags, and that gaps in the model are no error.
// @vitest-environment node
import { readFileSync } from 'node:fs';
import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { recordPdf } from './pdf';
import type { Block, RecordModel } from './model';
import { sampleModel } from './sample_model';

const read = (name: string) => new Uint8Array(readFileSync(new URL(`./fonts/${name}`, import.meta.url)));
const faces = { regular: read('NotoSans-Regular.ttf'), bold: read('NotoSans-Bold.ttf') };
const created = new Date('2025-11-20T17:15:00Z');

async function made(model: RecordModel, paper: 'a4' | 'letter' = 'a4') {
  const blob = await recordPdf(model, { paper, language: 'en', created, faces });
  expect(blob.type).toBe('application/pdf');
  return Buffer.from(await blob.arrayBuffer()).toString('latin1');
}

interface Part {
  head: string;
  data: string;
}

/** A PDF's objects by number, their streams unpacked. */
function parts(pdf: string): Map<string, Part> {
  const out = new Map<string, Part>();
  for (const [, number, text] of pdf.matchAll(/^(\d+) 0 obj\n([\s\S]*?)\nendobj$/gm)) {
    const [head = '', packed] = text!.split(/\nstream\n/);
    const data = packed?.replace(/\nendstream$/, '') ?? '';
    const open = head.includes('FlateDecode')
      ? inflateSync(Buffer.from(data, 'latin1')).toString('latin1')
      : data;
    out.set(number!, { head, data: open });
  }
  return out;
}
const pages = (pdf: string) => pdf.match(/\/Type \/Page\b(?!s)/g)?.length ?? 0;

/** From a face's glyphs to letters, by its own table. */
function letters(table: string): Map<number, string> {
  const out = new Map<number, string>();
  for (const [, from, list] of table.matchAll(/<(\w+)> <\w+> \[([^\]]*)\]/g))
    [...list!.matchAll(/<([\w ]*)>/g)].forEach(([, hex], i) => {
      const units = hex!
        .replaceAll(' ', '')
        .match(/.{4}/g)!
        .map((unit) => parseInt(unit, 16));
      out.set(parseInt(from!, 16) + i, String.fromCharCode(...units));
    });
  return out;
}

/** The words on the pages, a line for each piece that is drawn. */
function words(pdf: string): string {
  const all = parts(pdf);
  const faceTables = new Map<string, Map<number, string>>();
  for (const [, name, font] of pdf.matchAll(/\/(F\d+) (\d+) 0 R/g)) {
    const table = /\/ToUnicode (\d+) 0 R/.exec(all.get(font!)!.head)![1]!;
    faceTables.set(name!, letters(all.get(table)!.data));
  }
  let out = '';
  let face: string | undefined;
  for (const { data } of all.values()) {
    if (!data.includes(' Tf\n')) continue;
    for (const [, named, shown] of data.matchAll(/\/(F\d+) [\d.]+ Tf|\[([^\]]*)\] TJ|ET/g)) {
      if (named) face = named;
      else if (shown === undefined) out += '\n';
      else
        for (const [, hex] of shown.matchAll(/<(\w*)>/g))
          for (const glyph of hex!.match(/.{4}/g) ?? [])
            out += faceTables.get(face!)!.get(parseInt(glyph, 16)) ?? '?';
    }
  }
  return out;
}

describe('the record as PDF', () => {
  it.each(['a4', 'letter'] as const)('is a few pages of %s', async (paper) => {
    const pdf = await made(sampleModel, paper);
    expect(pdf.startsWith('%PDF-1.7')).toBe(true);
    expect(pdf.trimEnd().endsWith('%%EOF')).toBe(true);
    expect(pages(pdf)).toBeGreaterThan(1);
    expect(pages(pdf)).toBeLessThanOrEqual(4);
    expect(pdf).toContain(paper === 'a4' ? '/MediaBox [0 0 595.28 841.89]' : '/MediaBox [0 0 612 792]');
  });

  it('embeds its letters, and only those that it uses', async () => {
    const pdf = await made(sampleModel);
    expect(pdf.match(/\/FontFile2 /g)).toHaveLength(2);
    expect(pdf.match(/\/ToUnicode /g)).toHaveLength(2);
    expect(pdf).toMatch(/\/BaseFont \/[A-Z]{6}\+NotoSans-Bold/);
    expect(pdf.length).toBeLessThan(200_000);
  });

  it('says what it is, in XML too', async () => {
    const pdf = await made(sampleModel);
    expect(pdf).toContain('/Lang (en)');
    expect(pdf).toContain('Service record: Skarrvik school kitchen, <undercounter> & "cooler"');
    const xml = [...parts(pdf).values()].map((p) => p.data).find((s) => s.includes('xmpmeta'))!;
    expect(xml).toContain('&lt;undercounter&gt; &amp;');
    expect(xml).not.toContain('<undercounter>');
    expect(xml).toContain('<pdfaid:part>2</pdfaid:part>');
    expect(pdf).toContain('/OutputIntents');
    for (const type of ['H1', 'H2', 'P', 'L', 'LBody', 'Table', 'TR', 'TH', 'TD', 'Figure'])
      expect(pdf).toContain(`/S /${type}\n`);
  });

  it('holds every word of the model and numbers its pages', async () => {
    const pdf = await made(sampleModel);
    const shown = words(pdf);
    for (const word of [
      'Звягинцева-Ёлкина',
      'Παπαδοπούλου',
      'Ἀθηνᾶ',
      '−47.9',
      '→',
      'Nguyễn',
      'replaced',
      'µm & Pa',
    ])
      expect(shown).toContain(word);
    const last = pages(pdf);
    for (let page = 1; page <= last; ++page) expect(shown).toContain(`page ${page} of ${last}`);
    expect(shown.match(/^Instrument$/gm)!.length).toBeGreaterThan(1); // the head again on the next page
    expect(shown.match(/ micron *$/gm)).toHaveLength(60);
    expect(shown).not.toContain('Not drawn');
    expect(shown).not.toContain('\uFFFD');
  });

  it('takes a model with nothing in its blocks', async () => {
    const kinds = [
      'letterhead',
      'heading',
      'paragraph',
      'small',
      'list',
      'cautions',
      'facts',
      'table',
      'bars',
    ];
    const empty = [...kinds, 'figure', 'verdicts', 'signatures', 'something new'].map(
      (kind) => ({ kind }) as Block,
    );
    expect(pages(await made({ title: '', blocks: [] }))).toBe(1);
    expect(pages(await made({ title: 'T', blocks: empty }))).toBe(1);
    const odd: Block[] = [
      { kind: 'figure', svg: '<svg viewBox="0 0 0 0"/>', caption: 'c' },
      { kind: 'figure', svg: 'no picture', caption: 'c' },
      { kind: 'table', columns: [{}], rows: [[], ['a', 'b']], sums: 9 },
      { kind: 'signatures', signatures: [{}, { path: 'M0 0" onload="x', width: 9, height: 9 }] },
      { kind: 'bars', bars: [{ share: 7 }] },
    ];
    expect(pages(await made({ title: 'T', blocks: odd }))).toBe(1);
  });

  it('shows a sign that the letters lack as such, and loses none', async () => {
    const shown = words(
      await made({ title: 'T', blocks: [{ kind: 'paragraph', text: 'a\u6c37b\u200bc 54\u2007\u2008' }] }),
    );
    expect(shown).toContain('a\uFFFDbc 54\u2007\u2008');
  });

  it('keeps a heading, and words before a table, with what follows', async () => {
    const filler = (lines: number): Block => ({
      kind: 'paragraph',
      text: Array(lines).fill('filler').join('\n'),
    });
    const rows = [['one'], ['two'], ['three']];
    for (let lines = 45; lines < 60; ++lines) {
      const blocks: Block[] = [
        filler(lines),
        { kind: 'heading', level: 2, text: 'Head' },
        { kind: 'paragraph', text: 'Before' },
        { kind: 'table', columns: [{ label: 'C' }], rows },
      ];
      const onPages = words(await made({ title: 'T', foot: 'page {page} of {pages}', blocks })).split(
        /page \d of \d/,
      );
      const at = (word: string) =>
        onPages.findIndex((page) => page.split('\n').some((line) => line.trim() === word));
      expect(at('Head')).toBeGreaterThanOrEqual(0);
      expect(at('Before')).toBe(at('Head'));
      expect(at('three')).toBe(at('Head'));
    }
  });

  it('lets a text and a row run on that are higher than a page', async () => {
    const long = Array.from({ length: 900 }, (_, i) => `word${i}`).join(' ');
    const pdf = await made({
      title: 'T',
      blocks: [
        { kind: 'paragraph', text: `${long} ${long}` },
        {
          kind: 'table',
          columns: [
            { label: 'A', share: 1 },
            { label: 'B', share: 3 },
          ],
          rows: [[long, 'b']],
        },
        { kind: 'paragraph', text: 'W'.repeat(400) },
      ],
    });
    expect(pages(pdf)).toBeGreaterThan(2);
    const shown = words(pdf);
    for (const word of ['word0', 'word450', 'word899'])
      expect(shown.split(/\s/).filter((w) => w === word).length).toBe(3);
    expect(shown.replace(/\s/g, '')).toContain('W'.repeat(400));
  });
});
