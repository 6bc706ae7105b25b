// What a finger draws, as the path data of an SVG: M and L and whole numbers, within the box it was drawn in.
export const padWidth = 600;
export const padHeight = 260;

/** Nearer than this to the point before it, a point adds nothing. */
const nearest = 2;

const within = (value: number, most: number) => Math.round(Math.min(Math.max(value, 0), most));

export function begun(path: string, x: number, y: number): string {
  const [px, py] = [within(x, padWidth), within(y, padHeight)];
  // A dot is a stroke too: a line to where it began, drawn as its round end.
  return `${path}${path ? ' ' : ''}M${px} ${py} L${px} ${py}`;
}

export function drawn(path: string, x: number, y: number): string {
  const last = /(\d+) (\d+)$/.exec(path);
  const [px, py] = [within(x, padWidth), within(y, padHeight)];
  if (last && Math.hypot(Number(last[1]) - px, Number(last[2]) - py) < nearest) return path;
  return `${path} L${px} ${py}`;
}

/** Without its last stroke. */
export function shortened(path: string): string {
  const from = path.lastIndexOf('M');
  return from <= 0 ? '' : path.slice(0, from).trimEnd();
}
