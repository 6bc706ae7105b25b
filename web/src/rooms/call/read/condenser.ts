// The kind of condenser that a call's machine has: its plate's own word, or else its cabinet's.
import type { Entry } from '../../../store/store';
import { textOf } from './drawing';
import { fieldsOf } from './fold';
import type { Condenser } from './machine_picture';
import type { Cabinet, Vocabulary } from './vocabulary';

/** The cabinet that was chosen; undefined before that. */
export function cabinetOf(standing: readonly Entry[], words: Vocabulary): Cabinet | undefined {
  const chosen = textOf(fieldsOf(standing, 'nameplate').get('cabinet'), 'cabinet');
  return words.cabinets.find((c) => c.word === chosen);
}

/** Finned with a fan until anything else is said. */
export function condenserOf(standing: readonly Entry[], words: Vocabulary): Condenser {
  const typed = textOf(fieldsOf(standing, 'nameplate').get('condenser'), 'condenser');
  return (typed ?? cabinetOf(standing, words)?.condenser ?? 'finned_fan') as Condenser;
}
