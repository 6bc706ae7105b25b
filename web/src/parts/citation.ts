// A work that an answer rests on, as it is cited; what is no published work is said in the reader's language.
import { say } from '../words/words';

export function citation(reference: { key: string; citation: string }): string {
  switch (reference.key) {
    case 'our-estimate':
      return say('shell.our_estimate');
    case 'common-practice':
      return say('shell.common_practice');
    case 'from-memory':
      return say('shell.from_memory');
    default:
      return reference.citation;
  }
}
