// Every field, choice and reading of the procedures' table is worded.
import { expect, test, vi } from 'vitest';
import en from '../../../words/en';
import { entryKinds } from './kinds';
import { procedures } from './procedures';
import { beside } from './repair_part';

vi.mock('../../../engine/build/coldwright.wasm?url', () => ({ default: '' }));

const words = en.repair!;

test.each([...procedures.values()].map((p) => [p.name, p] as const))('%s is worded', (_, p) => {
  for (const f of p.fields) {
    expect(words[`field_${f.label ?? f.key}`], f.key).toBeTruthy();
    if (f.hint) expect(words[`hint_${f.hint}`], f.hint).toBeTruthy();
    for (const c of f.choices ?? [])
      expect(words[`choice_${f.words ?? f.key}_${c}`], `${f.key} ${c}`).toBeTruthy();
  }
  for (const r of p.readings ?? []) expect(words[`reading_${r.label ?? r.key}`], r.key).toBeTruthy();
  expect(new Set(p.fields.map((f) => f.key)).size).toBe(p.fields.length);
});

test.each([...beside, 'done_work', 'record'])('%s has a title of its own', (part) => {
  expect(words[`step_${part}`]).toBeTruthy();
});

test.each(entryKinds.map((k) => [k.kind, k] as const))('%s is worded', (_, k) => {
  expect(words[`kind_${k.kind}`] && words[`add_${k.kind}`]).toBeTruthy();
  for (const f of k.fields) {
    expect(words[`write_${k.kind}_${f.key}`], f.key).toBeTruthy();
    if (f.hint) expect(words[`write_hint_${f.key}`], f.key).toBeTruthy();
    for (const c of f.choices ?? []) expect(words[`${f.key}_${c}`], c).toBeTruthy();
  }
});
