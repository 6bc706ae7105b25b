// What the keys do to the text: a number and perhaps its unit, as one says it.
const figure =
  /^\s*((?:[-+−]\s*)?(?:\d+\s+\d+\s*\/\s*\d+|\d+\s*\/\s*\d+|\d+(?:[.,]\d*)?|[.,]\d+)?)\s*(.*?)\s*$/su;

export function split(text: string): { figure: string; unit: string } {
  const found = figure.exec(text)!;
  return { figure: found[1]!.trim(), unit: found[2]! };
}

/** Digits go behind the figure, also when a unit was typed already. */
export function press(text: string, key: string): string {
  const { figure: f, unit } = split(text);
  if (key === 'back') {
    if (unit) return f;
    return f.replace(/\s*\d\/\d$|.$/u, '').trimEnd();
  }
  if (key === 'OL') return 'OL';
  const base = /^ol$/i.test(unit) ? { f: '', unit: '' } : { f, unit };
  let next = base.f;
  if (key === '-') next = /^[-−]/.test(next) ? next.slice(1) : `-${next}`;
  else if (key === '.') next = /[.,/]/.test(next) ? next : /\d$/.test(next) ? `${next}.` : `${next}0.`;
  else if (/^\d\/\d$/.test(key)) {
    const whole = next.replace(/\s*\d*\/\d*$/, '').replace(/[.,].*$/, '');
    next = /\d$/.test(whole) ? `${whole} ${key}` : `${whole}${key}`;
  } else if (/\d\/\d/.test(next)) next = key;
  else next += key;
  return base.unit ? `${next} ${base.unit}` : next;
}

/** A unit key: takes the place of a unit that was typed. */
export function withoutUnit(text: string): string {
  return /^\s*ol\s*$/i.test(text) ? text : split(text).figure;
}

/** The text with the unit that is meant, where none was typed. */
export function spokenWith(text: string, unit: string): string {
  const parts = split(text);
  return parts.unit || !parts.figure ? text.trim() : `${parts.figure} ${unit}`;
}

/** Nothing that could be a quantity yet: nobody is asked, nothing is wrong. */
export function unfinished(text: string): boolean {
  return /^\s*[-+−]?\s*[.,]?\s*$/u.test(text);
}
