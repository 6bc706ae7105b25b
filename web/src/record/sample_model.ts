// A record to try the painter on, in the core's shapes, with every kind of block. Invented: Skarrvik, its people and
// makers don't exist.
import type { Block, RecordModel } from './model';

const curve = Array.from({ length: 61 }, (_, i) => {
  const x = 46 + i * 7.4;
  return `${x.toFixed(1)} ${(40 + 120 * Math.exp(-i / 14) - 20).toFixed(1)}`;
});

/** As the core draws curves: looks in attributes, a label turned. */
export const plotSvg =
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 500 200" width="500" height="200" role="img">\n' +
  `<path d="M${curve.join(' L')} L490 60 L46 170 Z" fill="#dcebea" stroke="none"/>\n` +
  `<line x1="46" y1="170" x2="490" y2="170" stroke="#5c666d" stroke-width="0.8"/>\n` +
  `<line x1="46" y1="20" x2="46" y2="170" stroke="#5c666d" stroke-width="0.8"/>\n` +
  `<path d="M${curve.join(' L')}" fill="none" stroke="#0b6a6f" stroke-width="1.4" stroke-linejoin="round"/>\n` +
  '<path d="M46 150 L490 150" fill="none" stroke="#a3521a" stroke-width="1.1" stroke-dasharray="5 3"/>\n' +
  curve
    .filter((_, i) => i % 10 === 0)
    .map((p) => {
      const [x, y] = p.split(' ');
      return `<circle cx="${x}" cy="${y}" r="2.3" fill="#1a2629"/>\n`;
    })
    .join('') +
  '<text x="268" y="195" fill="#5c666d" font-size="8.5" text-anchor="middle">time, min</text>\n' +
  '<text x="10" y="95" fill="#5c666d" font-size="8.5" text-anchor="middle" transform="rotate(-90 10 95)">' +
  'pressure &lt; 2 mbar, µm &amp; Pa</text>\n</svg>\n';

/** As the core draws diagrams: looks in a style sheet, classes, a clip, letters with a seam. */
export const chartSvg =
  '<?xml version="1.0" encoding="UTF-8"?>\n' +
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 500 300" class="chart" role="img"><style>\n' +
  '.chart text{font-size:10.5px;fill:#22303a}.chart .over{paint-order:stroke;stroke:#fffefb;stroke-width:3px;font-weight:700}\n' +
  '.chart .plot{fill:#fffefb;stroke:#c9c2b2;stroke-width:1}.chart .wet{fill:#e4efec}.chart .grid{stroke:#e9e4d8;fill:none}\n' +
  '.chart path,.chart polyline{fill:none;stroke-linejoin:round}.chart .wet{stroke:none}\n' +
  '.chart .dew{stroke:#0b6a6f;stroke-width:2}.chart .dew.blend{stroke:#a3521a;stroke-dasharray:9 3}\n' +
  '@media (prefers-color-scheme:dark){\n.chart text{fill:#e6e9e4}.chart .plot{fill:#172024}\n}\n</style>\n' +
  '<title id="chart-title">Not drawn</title><desc>Nor this</desc>\n' +
  '<g class="diagram"><clipPath id="in-p"><rect x="40" y="20" width="440" height="240"/></clipPath>\n' +
  '<rect class="plot" x="40" y="20" width="440" height="240"/>\n' +
  '<path class="grid" d="M40,100 480,100"/><path class="grid" d="M40,180 480,180"/>\n' +
  '<g clip-path="url(#in-p)"><path class="dew" d="M60,270 C120,40 200,10 260,60 S340,200 350,270"/>\n' +
  '<path class="dew blend" d="M20,150 600,150"/></g>\n' +
  '<text class="over" x="260" y="62" text-anchor="middle">R600a, 3.2 bar</text></g>\n</svg>\n';

const signature =
  'M8 40 C20 8 30 6 28 34 C26 52 44 50 48 30 L56 44 C62 20 70 16 72 40 C74 56 88 44 92 30 M104 12 L100 48 ' +
  'M98 48 C112 44 118 46 122 48 M130 34 L132 48 M140 48 C142 30 152 28 154 48 M176 12 L174 48 C164 52 158 36 174 36';

const readings: Block = {
  kind: 'table',
  caption: 'Evacuation: readings',
  columns: [
    { label: 'When', align: 'left', share: 1.2 },
    { label: 'Pressure', align: 'right', share: 1 },
    { label: 'Temperature', align: 'right', share: 1 },
    { label: 'Instrument', align: 'left', share: 2 },
  ],
  rows: Array.from({ length: 60 }, (_, i) => [
    `${i === 0 ? '2025-11-20\u00a0' : ''}1${4 + Math.floor(i / 60)}:${String(i % 60).padStart(2, '0')}`,
    `${(3000 * Math.exp(-i / 9) + 210).toFixed(0)} micron`,
    `${(24.6 - i / 50).toFixed(1)}\u00a0°C`,
    i % 17 === 3
      ? 'gauge at the process tube, after the valve was opened again and the hose had been warmed'
      : 'gauge, ±\u00a010\u00a0%',
  ]),
  sums: 0,
};

const blocks: Block[] = [
  {
    kind: 'letterhead',
    name: 'Kylvakt Skarrvik',
    lines: ['Hamngatan 4, Skarrvik', 'Phone 555-0142 · Licence SK-17'],
  },
  { kind: 'heading', level: 1, text: 'Service record' },
  {
    kind: 'facts',
    facts: [
      { label: 'Machine', value: 'Skarrvik school kitchen, undercounter cooler' },
      { label: 'Maker', value: 'Nordhylla' },
      { label: 'Model', value: 'UC-3' },
      { label: 'Refrigerant', value: 'R600a, class A3' },
      { label: 'Charge', value: '58 g' },
      { label: 'Technician', value: 'Ольга Звягинцева-Ёлкина' },
      { label: 'Customer', value: 'Ελένη Παπαδοπούλου, Ἀθηνᾶ' },
      { label: 'Visit', value: '2025-11-20\u00a009:30 to 18:10' },
      {
        label: 'Conditions',
        value:
          'room 24.6 °C, inside 14.2 °C when it was first read, door closed for an hour and the fan running all the while',
      },
    ],
  },
  { kind: 'heading', level: 2, text: 'What was found' },
  {
    kind: 'paragraph',
    text: 'Reported: not cooling.\nŽofie said: "it hums, then clicks" – čtvrt hodiny; Nguyễn Thị heard it too, Ångström-ish: e\u0301, q\u0303.',
  },
  {
    kind: 'bars',
    caption: 'How probable each cause is, by the readings',
    bars: [
      { label: 'restricted capillary or drier', share: 0.91, text: '91 %', words: 'found', found: true },
      {
        label: 'low charge together with restricted capillary or drier',
        share: 0.06,
        text: '6 %',
        words: 'unlikely',
        found: false,
      },
      { label: 'all others', share: 0.03, text: '3 %', words: '', found: false },
    ],
  },
  {
    kind: 'list',
    items: [
      "The suction's saturation of −47.9 °C lies 60.9 K below the coil's air, where 21.1 K is usual: the coil is starved or hardly takes up heat.",
      'The superheat at the coil is ≥ 61.5 K → the coil runs dry early.',
    ],
  },
  { kind: 'heading', level: 2, text: 'What was done' },
  {
    kind: 'table',
    caption: 'Parts',
    columns: [
      { label: 'Part', align: 'left', share: 1.2 },
      { label: 'What', align: 'left', share: 0.9 },
      { label: 'Detail', align: 'left', share: 2.4 },
      { label: 'Price', align: 'right', share: 0.8 },
    ],
    rows: [
      ['filter drier', 'replaced', '15 g, with access tube', '18.00 EUR'],
      ['capillary', 'cleaned', '', '1 240.50 EUR'],
      ['', 'Sum', '', '1 258.50 EUR'],
    ],
    sums: 1,
  },
  { kind: 'heading', level: 3, text: 'Left out, and why' },
  { kind: 'list', items: ['Leak search: the circuit held its charge: nothing had leaked out.'] },
  { kind: 'heading', level: 2, text: 'What was proved' },
  {
    kind: 'verdicts',
    verdicts: [
      {
        label: 'Pressure test',
        text: 'Tight: 10.02 barg fell by 0.01 bar in 30 min.',
        lines: ['Temperature fell by 0.2 K, which explains it.'],
      },
      { label: 'Vacuum rise', text: 'Dry: it levelled off at 345 micron.', lines: [] },
    ],
  },
  { kind: 'figure', svg: plotSvg, caption: 'Evacuation: pressure over time', width: 500, height: 200 },
  readings,
  {
    kind: 'figure',
    svg: chartSvg,
    caption: 'The cycle on the pressure-enthalpy diagram',
    width: 500,
    height: 300,
  },
  { kind: 'heading', level: 2, text: 'Left to watch' },
  {
    kind: 'list',
    items: ['Read the temperature inside every morning for a week; it should stay near 3 °C.'],
  },
  { kind: 'heading', level: 2, text: 'Cautions' },
  {
    kind: 'cautions',
    items: [
      'R600a in this machine burns. Keep its openings clear, keep flames and anything that heats or sparks out of it, and never pierce it to remove ice.',
      'If it hisses, smells of gas or loses its cold at once: switch nothing at the machine, air the room, keep people away and call the service.',
    ],
  },
  { kind: 'heading', level: 2, text: 'Signatures' },
  {
    kind: 'signatures',
    signatures: [
      {
        role: 'technician',
        label: 'Technician',
        name: 'Ольга Звягинцева-Ёлкина',
        at: '2025-11-20\u00a018:08',
        path: signature,
        width: 190,
        height: 60,
      },
      {
        role: 'customer',
        label: 'Customer',
        name: 'name and signature',
        at: '',
        path: '',
        width: 0,
        height: 0,
      },
    ],
  },
  {
    kind: 'small',
    text: "A probability is not a certainty: it says how well each cause fits what was read and seen, among the machines that were computed. The nameplate, the maker's instructions, the local code and licensed practice come first. Times as written at the visit (UTC+01:00).",
  },
];

export const sampleModel: RecordModel = {
  title: 'Service record: Skarrvik school kitchen, <undercounter> & "cooler"',
  foot: 'Skarrvik school kitchen · page {page} of {pages}',
  blocks,
};
