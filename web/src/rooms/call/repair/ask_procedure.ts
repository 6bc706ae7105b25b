// A procedure asked about the open call: the call itself, the run, and what is being typed just now.
import { computed } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import type { Problem } from '../../../engine/engine';
import { prefs } from '../../../shell/prefs';
import type { OpenCall } from '../../../store/store';
import { useOnce } from '../read/ask_once';
import type { ProcedureAnswer } from './answer_types';

/** Entries that change no procedure's figures: without them a tick or a note asks nothing anew. */
const beside: ReadonlySet<string> = new Set([
  ...['note', 'step', 'order', 'work', 'signature', 'watch', 'product_temperature'],
]);

interface FileEntry {
  kind?: string;
  procedure?: string;
}

/** The call as the core is asked about it: what stands, without other procedures' runs where one is named. */
export function callText(call: OpenCall, procedure: string | null, without = beside): string {
  const file = call.file();
  const entries = (file.entries as FileEntry[]).filter(
    (e) =>
      !without.has(e.kind ?? '') &&
      (procedure === null || e.procedure === undefined || e.procedure === procedure),
  );
  return JSON.stringify({ ...file, entries });
}

/** A signal's worth of the call, so that a screen asks again when something of it changes. */
export function useCallText(call: OpenCall, procedure: string | null, without = beside): string {
  const text = useMemo(
    () =>
      computed(() => {
        void call.standing.value;
        return callText(call, procedure, without);
      }),
    [call, procedure],
  );
  return text.value;
}

export function useProcedure(
  call: OpenCall,
  procedure: string,
  run: number,
  typed: Readonly<Record<string, string>>,
): { answer: ProcedureAnswer | null; problem: Problem | null; busy: boolean } {
  const call_text = useCallText(call, procedure);
  const asked = useOnce<ProcedureAnswer>(
    procedure,
    { call_text, run, units: prefs.units.value, ...typed },
    Object.keys(typed).length > 0 ? 150 : 0,
  );
  return asked;
}
