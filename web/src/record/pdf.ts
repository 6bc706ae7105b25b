// A record as PDF, made where the record is read: no server, no network once the app is kept. PDF/A-2, tagged, with
// its letters embedded; every word on it comes from the model, the pages' numbers excepted.
import { firstHeight, put } from './blocks';
import { body, Flow } from './flow';
import boldFace from './fonts/NotoSans-Bold.ttf?url';
import regularFace from './fonts/NotoSans-Regular.ttf?url';
import type { Block, RecordModel } from './model';
import { Pen, type Faces } from './pen';

export interface PdfOptions {
  paper: 'a4' | 'letter';
  /** Of the model's texts, for readers: en, es, fr. */
  language: string;
  /** When it was made; now, without it. */
  created?: Date;
  /** The letters, where they don't come from beside the app. */
  faces?: Faces;
}

// points
const papers = { a4: [595.28, 841.89], letter: [612, 792] } as const;

/** A last page with less than this on it is not worth a sheet, if slightly smaller letters save it. */
const spill = 0.3;
const smallest = 0.9; // 8.4 points in running text: still read with ease (our-estimate)

async function face(url: string): Promise<Uint8Array> {
  const answer = await fetch(url);
  if (!answer.ok) throw new Error(`no letters: ${answer.status}`);
  return new Uint8Array(await answer.arrayBuffer());
}

let kept: Promise<Faces> | undefined;
function faces(): Promise<Faces> {
  kept ??= Promise.all([face(regularFace), face(boldFace)]).then(([regular, bold]) => ({ regular, bold }));
  kept.catch(() => (kept = undefined)); // the next try asks again
  return kept;
}

/** Whether a block goes with the beginning of the next: a heading always, a few words before their table. */
function bound(flow: Flow, block: Block, next: Block | undefined): boolean {
  if (block.kind === 'heading') return next !== undefined;
  return block.kind === 'paragraph' && next?.kind === 'table' && flow.heightOf(block.text, body) < 30;
}

function lay(flow: Flow, { blocks }: RecordModel): void {
  blocks.forEach((block, i) => {
    let together = 0;
    for (let k = i; k < blocks.length; ++k) {
      together += firstHeight(flow, blocks[k]!);
      if (!bound(flow, blocks[k]!, blocks[k + 1])) break;
    }
    flow.need(Math.min(together, 0.9 * flow.whole));
    put(flow, block);
  });
  flow.foot();
}

/** Throws when the letters can't be had; the model's gaps are no error. */
export async function recordPdf(model: RecordModel, options: PdfOptions): Promise<Blob> {
  const [width, height] = papers[options.paper];
  const pen = new Pen(
    { width, height, title: model.title, language: options.language, created: options.created ?? new Date() },
    options.faces ?? (await faces()),
  );
  const foot = model.foot ?? '{page} / {pages}';
  const laid = (scale: number, draw: boolean, pages: number) => {
    const flow = new Flow(pen, width / scale, height / scale, draw, pages, foot);
    lay(flow, model);
    return flow;
  };
  const plain = laid(1, false, 1);
  let fit = { scale: 1, pages: plain.page };
  for (let scale = 0.98; fit.pages > 1 && plain.filled < spill && scale > smallest - 0.001; scale -= 0.02) {
    const pages = laid(scale, false, 1).page;
    if (pages < plain.page) {
      fit = { scale, pages };
      break;
    }
  }
  pen.scale(fit.scale);
  laid(fit.scale, true, fit.pages);
  return pen.finish();
}
