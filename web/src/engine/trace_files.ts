// Logged files fed to the core piece by piece, as they lie on the disk: none is ever whole in memory.
import type { LoggedFile } from './messages';

/** What of the core this needs; Core of module.ts has it. */
export interface TraceCore {
  traceOpen(name: string, layout: string): string;
  traceFeed(bytes: Uint8Array<ArrayBuffer>): string;
  traceAnswer(): string;
}

/** Of all the work, how much the reading is; the rest is the study of what was read (measured, roughly). */
export const readingShare = 0.7;

const refused = (text: string) => !text.startsWith('{"ok":');

/** The answer's JSON text or the Problem's; empty when `goOn` said to stop. */
export async function feedFiles(
  core: TraceCore,
  files: readonly LoggedFile[],
  goOn: (share: number) => boolean,
): Promise<string> {
  const all = Math.max(
    1,
    files.reduce((sum, f) => sum + f.file.size, 0),
  );
  let fed = 0;
  for (const { name, layout, file } of files) {
    const opened = core.traceOpen(name, layout);
    if (refused(opened)) return opened;
    const reader = (file.stream() as ReadableStream<Uint8Array<ArrayBuffer>>).getReader();
    for (;;) {
      const piece = await reader.read().catch((error: unknown) => ({ done: true, error }) as const);
      if ('error' in piece) return unreadable(name, piece.error);
      if (piece.done) break;
      const said = core.traceFeed(piece.value);
      if (refused(said)) return said;
      fed += piece.value.length;
      if (!goOn(readingShare * Math.min(1, fed / all))) {
        void reader.cancel();
        return '';
      }
    }
  }
  return core.traceAnswer();
}

/** The phone took the file away, or it changed, while it was read. */
function unreadable(name: string, error: unknown): string {
  const why = error instanceof Error ? error.message : String(error);
  return JSON.stringify({
    problem: { field: 'unreadable', given: name, allowed: '', why, text: `${name}: ${why}` },
  });
}
