// The record's PDF, painted in the browser from the same model as the HTML. Loaded when it is taken.
import type { RecordAnswer } from './record_screen';

export async function paintRecord(record: RecordAnswer): Promise<Uint8Array<ArrayBuffer>> {
  throw new Error(`no painter for ${record.paper} yet`);
}
