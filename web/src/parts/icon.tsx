// Our own line icons, 24 by 24, drawn with the text's colour. Never alone: a text or label stands beside.
const paths = {
  back: 'M15 4l-8 8 8 8',
  close: 'M5 5l14 14M19 5L5 19',
  undo: 'M8 5L3 10l5 5M3 10h11a6 6 0 0 1 0 12h-3',
  redo: 'M16 5l5 5-5 5M21 10H10a6 6 0 0 0 0 12h3',
  plus: 'M12 4v16M4 12h16',
  minus: 'M4 12h16',
  clock: 'M12 5a8 8 0 1 0 0 16 8 8 0 0 0 0-16M12 9v4l3 2M9 2h6',
  tick: 'M4 13l5 5L20 6',
  note: 'M12 3a9 9 0 1 0 0 18 9 9 0 0 0 0-18M12 11v6M12 7v.5',
  warn: 'M12 3L2 20h20L12 3M12 10v5M12 17.5v.5',
  plate: 'M3 6h18v12H3zM7 10h6M7 14h10',
  shield: 'M12 3l8 3v6c0 5-4 8-8 9-4-1-8-4-8-9V6z',
  eye: 'M2 12c3-5 6-7 10-7s7 2 10 7c-3 5-6 7-10 7s-7-2-10-7M12 9a3 3 0 1 0 0 6 3 3 0 0 0 0-6',
  gauge: 'M4 18a9 9 0 1 1 16 0M12 14l4-6M4 18h3M17 18h3',
  scales: 'M12 4v16M7 20h10M4 8h16M4 8l-2 6h6l-2-6M20 8l-2 6h4zM18 8l-2 6h6',
  steps: 'M4 20h5v-5h5v-5h5V5',
  camera: 'M3 8h4l2-3h6l2 3h4v11H3zM12 10a4 4 0 1 0 0 8 4 4 0 0 0 0-8',
  tools: 'M5 3v18M5 8h5V3M14 21V11a4 4 0 1 1 6 0v10z',
  list: 'M4 6h16M4 12h16M4 18h10',
  gear: 'M4 7h9M17 7h3M4 17h3M11 17h9M15 4v6M9 14v6',
  up: 'M12 20V4M5 11l7-7 7 7',
  down: 'M12 4v16M5 13l7 7 7-7',
  share: 'M12 15V3M7 8l5-5 5 5M5 13v7h14v-7',
  bring: 'M12 3v12M7 10l5 5 5-5M5 15v5h14v-5',
  trash: 'M4 7h16M9 7V4h6v3M6 7l1 13h10l1-13',
  light:
    'M12 8a4 4 0 1 0 0 8 4 4 0 0 0 0-8M12 2v3M12 19v3M2 12h3M19 12h3M5 5l2 2M17 17l2 2M19 5l-2 2M7 17l-2 2',
  swap: 'M4 8h15l-4-4M20 16H5l4 4',
} as const;
export type IconName = keyof typeof paths;

/** A line drawing as every icon is drawn. */
export function LineIcon({ path }: { path: string }) {
  return (
    <svg
      class="icon"
      viewBox="0 0 24 24"
      fill="none"
      stroke="currentColor"
      stroke-width="2"
      stroke-linecap="round"
      stroke-linejoin="round"
      aria-hidden="true"
    >
      <path d={path} />
    </svg>
  );
}

export function Icon({ name }: { name: IconName }) {
  return <LineIcon path={paths[name]} />;
}
