// JSON from outside, read without trust: a key that stands twice in one object, or brackets without end, are
// refused before anything is believed. JSON.parse alone would drop the first of two values in silence.

export type Flaw = { allowed: 'json' | 'each_key_once' | 'depth_32'; given: string };

export function parseStrict(text: string): { value: unknown } | Flaw {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { allowed: 'json', given: text.slice(0, 40) };
  }
  return flawOf(text) ?? { value };
}

/** Walks over a text that JSON.parse took: only strings and brackets matter. */
function flawOf(text: string): Flaw | null {
  const keys: (Set<string> | null)[] = []; // per open bracket; null for a list
  const token = /"(?:[^"\\]|\\.)*"(\s*:)?|[{}[\]]/g;
  for (let m = token.exec(text); m; m = token.exec(text)) {
    const c = m[0][0];
    if (c === '{' || c === '[') {
      keys.push(c === '{' ? new Set() : null);
      if (keys.length > 32) return { allowed: 'depth_32', given: String(keys.length) };
    } else if (c === '}' || c === ']') keys.pop();
    else if (m[1] !== undefined) {
      const key = JSON.parse(m[0].slice(0, -m[1].length)) as string;
      if (keys.at(-1)?.has(key)) return { allowed: 'each_key_once', given: key };
      keys.at(-1)?.add(key);
    }
  }
  return null;
}
