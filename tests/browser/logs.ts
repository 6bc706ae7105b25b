// Logger files as the tests open them: the invented machines of Skarrvik, made by plain formulas.

/** A number that looks drawn and is the same each time. */
function drawn(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

export interface Sample {
  /** s since the start */
  t: number;
  power: number; // W
  suction: number; // bar(g)
  line: number; // suction line, C
  room: number; // C
}

/** A compressor that runs fourteen minutes of forty, with a steady long run at the end. */
export function samples(count: number, step: number): Sample[] {
  const some = drawn(7);
  const all: Sample[] = [];
  let suction = 5;
  let line = 12;
  for (let i = 0; i < count; ++i) {
    const t = i * step;
    const long = t > (count - 1) * step - 2400;
    const runs = long || t % 2400 < 840;
    const since = long ? 9999 : t % 2400;
    suction += ((runs ? 0.9 : 5.2) - suction) * Math.min(1, step / (runs ? 90 : 300));
    line += ((runs ? 3 : 14) - line) * Math.min(1, step / 400);
    all.push({
      t,
      power: runs ? 180 + 40 * Math.exp(-since / 60) + 4 * some() : 2 + some(),
      suction: suction + 0.02 * some(),
      line: line + 0.1 * some(),
      room: 21 + 0.5 * Math.sin(t / 9000) + 0.1 * some(),
    });
  }
  return all;
}

const two = (n: number) => String(n).padStart(2, '0');

/** Semicolons, decimal commas, German headings, the time in the middle, day first; a row of rubbish and a gap. */
export function oddLog(count = 1500): string {
  const comma = (v: number, digits: number) => v.toFixed(digits).replace('.', ',');
  const start = Date.UTC(2026, 2, 14, 21, 0, 0);
  const rows = samples(count, 20).map((s, i) => {
    const at = new Date(start + s.t * 1000);
    const when = `${two(at.getUTCDate())}.${two(at.getUTCMonth() + 1)}.${at.getUTCFullYear()} ${two(at.getUTCHours())}:${two(at.getUTCMinutes())}:${two(at.getUTCSeconds())}`;
    if (i === 700) return '### power failure ###';
    return [comma(s.line, 1), when, comma(s.power, 1), comma(s.suction, 2), comma(s.room, 1)].join(';');
  });
  return `Fühler 1 [°C];Zeit;Leistung [W];Saugdruck [bar(g)];Raumluft [°C]\r\n${rows.join('\r\n')}\r\n`;
}

/** Plain and long: a sample a second. */
export function longLog(count: number): string {
  const start = Date.UTC(2026, 2, 1);
  const rows = samples(count, 1).map(
    (s) =>
      `${new Date(start + s.t * 1000).toISOString()},${s.power.toFixed(1)},${s.suction.toFixed(2)},${s.line.toFixed(1)}`,
  );
  return `time,compressor power (W),suction pressure (bar(g)),suction line (°C)\n${rows.join('\n')}\n`;
}
