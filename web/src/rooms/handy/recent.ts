// The refrigerant all tools share, the ones chosen before it, and the search in the catalogue.
import { app } from '../../shell/app';
import type { UseCases } from '../../engine/engine';

export type Listed = UseCases['refrigerants']['answer']['refrigerants'][number];

/** Shown before anything was chosen: what small sealed machines are charged with. */
const usual = ['R290', 'R600a', 'R134a', 'R404A', 'R448A', 'R513A'];
const kept = 8;

/** Newest first, each once. */
export function remembered(recent: readonly string[], chosen: string): string[] {
  return [chosen, ...recent.filter((r) => r !== chosen)].slice(0, kept);
}

const draft = () => app.store.draft('handy.refrigerants');
const read = (text: string) => text.split('\n').filter(Boolean);

/** The recent ones, topped up with the usual ones. */
export function recentRefrigerants(): string[] {
  const recent = read(draft().value);
  return [...recent, ...usual.filter((r) => !recent.includes(r))].slice(0, kept);
}
export function refrigerant(): string {
  return read(draft().value)[0] ?? usual[0]!;
}
export function chooseRefrigerant(name: string): void {
  draft().value = remembered(read(draft().peek()), name).join('\n');
}

const bare = (text: string) => text.toLowerCase().replace(/[\s\-_]/g, '');

/** Whose designation begins so, then whose designation or name holds it. "290" finds R290. */
export function search<T extends { designation: string; name: string }>(
  list: readonly T[],
  text: string,
): T[] {
  const wanted = bare(text);
  if (wanted === '') return [...list];
  const begins: T[] = [];
  const holds: T[] = [];
  for (const one of list) {
    const designation = bare(one.designation);
    if (designation.startsWith(wanted) || designation.startsWith(`r${wanted}`)) begins.push(one);
    else if (designation.includes(wanted) || bare(one.name).includes(wanted)) holds.push(one);
  }
  return [...begins, ...holds];
}

/** A composition of one's own, such as "R32/R125 50/50": not in the list, but the core reads it. */
export function isComposition(text: string): boolean {
  return /^\s*r\S+\/r\S+/i.test(text) && /\d\s*\/\s*\d+\s*$/.test(text);
}
