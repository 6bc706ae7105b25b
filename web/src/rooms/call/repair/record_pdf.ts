// The record's PDF, painted in the browser from the same model as the HTML. The painter comes with its letters and
// is loaded when a PDF is taken.
import type { RecordAnswer } from './record_screen';

interface Painter {
  recordPdf(model: object, options: { paper: 'a4' | 'letter'; language: string }): Promise<Blob>;
}
const painters = import.meta.glob<Painter>('../../../record/pdf.ts');

/** Rejects where the painter or its letters can't be had. */
export async function paintRecord(record: RecordAnswer): Promise<Blob> {
  const [load] = Object.values(painters);
  if (!load) throw new Error('no painter');
  const { recordPdf } = await load();
  return recordPdf(record.model, { paper: record.paper, language: record.language });
}
