// What finished calls have taught, as the screens ask the core about it and change it. The core writes the
// memory; here it is only carried to and fro.
import { app } from '../../../shell/app';
import { prefs } from '../../../shell/prefs';
import type { OpenCall } from '../../../store/store';
import type { ProcedureAnswer, Told } from '../../call/repair/answer_types';

export interface RememberedCall {
  id: string;
  unit: string;
  model: string;
}
export interface Forgotten {
  call?: string;
  unit?: string;
  model?: string;
  quantity?: string;
}
export interface Correction {
  unit: string;
  quantity: string;
  value: string;
}
export interface MemoryJson {
  calls: RememberedCall[];
  corrections: { unit: string; quantity: string }[];
  forgotten: Forgotten[];
}
export interface MemoryAnswer extends ProcedureAnswer {
  memory: MemoryJson;
}
export interface Change {
  calls?: (object | string)[];
  correct?: Correction[];
  forget?: Forgotten[];
  ask_back?: Forgotten[];
}

export function memoryRequest(text: string | null, change: Change = {}): object {
  return {
    ...(text === null ? {} : { memory: JSON.parse(text) as object }),
    ...change,
    units: prefs.units.peek(),
  };
}

const ask = (request: object) =>
  (app.engine.ask as unknown as (name: string, request: object) => Promise<MemoryAnswer>)('memory', request);

/** What the core said of the change. Rejects with a ProblemError, and then nothing was changed. */
export async function changeMemory(change: Change): Promise<Told[]> {
  let said: Told[] = [];
  await app.store.changeMemory(async (now) => {
    const answer = await ask(memoryRequest(now, change));
    said = answer.statements;
    return JSON.stringify(answer.memory);
  });
  return said;
}

/** The memory as it was before a change, unless another has come between. */
export async function takeBack(before: string | null, after: string | null): Promise<void> {
  await app.store.changeMemory(async (now) => (now === after ? before : now));
}

/** A finished call teaches; one that comes again in a later state takes the place of the earlier. */
export function learnFrom(call: OpenCall): Promise<Told[]> {
  return changeMemory({ calls: [call.file()] });
}

/** A file that was taken from here, after the core has read it. Rejects with a ProblemError. */
export async function bringMemory(text: string): Promise<void> {
  const answer = await ask({ memory: JSON.parse(text) as object, units: prefs.units.peek() });
  await app.store.changeMemory(async () => JSON.stringify(answer.memory));
}

/** What was learned of each unit: figures whose first input names it. */
export function byUnit(answer: MemoryAnswer): Map<string, ProcedureAnswer['figures']> {
  const units = new Map<string, ProcedureAnswer['figures']>();
  for (const call of answer.memory.calls) if (!units.has(call.unit)) units.set(call.unit, []);
  for (const figure of answer.figures) {
    if (!figure.key.startsWith(quantityPrefix)) continue;
    const unit = figure.where.find((w) => w.key === 'unit_name')?.text;
    if (unit !== undefined) units.set(unit, [...(units.get(unit) ?? []), figure]);
  }
  return units;
}

const quantityPrefix = 'learned_';
export const quantityOf = (figure: { key: string }) => figure.key.slice(quantityPrefix.length);
export const nameOf = (f: Forgotten) => f.call || f.unit || f.model || '';
