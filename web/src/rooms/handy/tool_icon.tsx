// The tools' own line icons, in the manner of parts/icon.tsx.
import { LineIcon } from '../../parts/icon';

const paths = {
  curve: 'M4 3v17h17M5 18c7-1 11-5 14-13M13 13.5v.5',
  between: 'M4 5v14h16M5 15h5c3 0 3-7 6-7h4M11 18v-2M15 12v-6M13 8l2-2 2 2',
  aim: 'M12 5a7 7 0 1 0 0 14 7 7 0 0 0 0-14M12 2v5M12 17v5M2 12h5M17 12h5',
  convert: 'M5 7h14M5 17h14M15 3l4 4-4 4M9 13l-4 4 4 4',
  room: 'M3 11l9-7 9 7M5 10v10h14V10M9 20c0-3 1-4 3-7 2 3 3 4 3 7',
  hose: 'M4 20v-6a4 4 0 0 1 8 0v2a4 4 0 0 0 8 0V4M2 20h4M18 4h4',
  vacuum: 'M4 4v16h16M5 6c1 9 4 12 15 13M15 6v6M12 9l3 3 3-3',
  standing: 'M8 3h8v4l2 3v11H6V10l2-3zM12 12v3a2 2 0 1 0 .1 0',
  trace: 'M4 3v17h17M6 15h2V8h4v7h3V6h4v9h2',
  table: 'M4 4h16v16H4zM4 9h16M4 14h16M10 4v16',
  bottle: 'M9 3h6v4l3 4v10H6V11l3-4zM6 14h12',
  drops:
    'M8 4c3 4 4 6 4 8a4 4 0 0 1-8 0c0-2 1-4 4-8M17 12c2 3 3 4 3 5.500a3 3 0 0 1-6 0c0-1.500 1-2.500 3-5.500',
} as const;
export type ToolIconName = keyof typeof paths;

export function ToolIcon({ name }: { name: ToolIconName }) {
  return <LineIcon path={paths[name]} />;
}
