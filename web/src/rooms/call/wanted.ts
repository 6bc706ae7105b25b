// What the person was sent to take: the stage that takes it opens at that place, and clears it. Set by the
// answer (the next reading worth taking, a finding to correct) and by whatever else points at a place.
import { signal } from '@preact/signals';

export interface Wanted {
  kind: 'reading' | 'observation';
  /** A reading's or observation's name in the core: "suction_pressure", "condenser_fan". */
  subject: string;
  /** The entry to correct, where there is one already. */
  entry?: string;
}

export const wanted = signal<Wanted | null>(null);
