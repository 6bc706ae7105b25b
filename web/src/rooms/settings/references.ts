// The publications of several answers in one list.
export interface Reference {
  key: string;
  citation: string;
}

/** Each once, by citation; a key that names a table or chapter belongs to the work itself. */
export function references(lists: readonly (readonly Reference[])[]): Reference[] {
  const byKey = new Map<string, Reference>();
  for (const one of lists.flat()) {
    const work = one.key.split(',')[0]!.trim();
    const known = byKey.get(work);
    if (!known || one.citation.length < known.citation.length) byKey.set(work, { ...one, key: work });
  }
  return [...byKey.values()].sort((a, b) => a.citation.localeCompare(b.citation));
}
