// Former calls of the same unit on this phone, by its name: the same words, or the same beginning up to the first
// comma ("fish hall, freezer by the door").
import type { CallSummary } from '../../../store/store';

const plain = (name: string) => name.toLowerCase().replace(/\s+/g, ' ').trim();
const beginning = (name: string) => plain(name.split(',')[0] ?? '');

export function formerCalls(calls: readonly CallSummary[], id: string, name: string): CallSummary[] {
  const start = beginning(name);
  return calls.filter((c) => c.id !== id && start.length > 3 && beginning(c.name) === start);
}
