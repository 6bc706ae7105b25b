// The machine as a drawing of its own components: the box above, the works below, the refrigerant going round.
// Only a picture: what is tapped are the buttons laid over it (drawing.tsx).
const zigzag = (x: number, y: number, width: number, rows: number, step: number) => {
  let d = `M${x} ${y}`;
  for (let i = 0; i < rows; ++i) {
    d += i % 2 === 0 ? `h${width}` : `h${-width}`;
    if (i < rows - 1)
      d += `${i % 2 === 0 ? 'a' : 'a'}${step / 2} ${step / 2} 0 0 ${i % 2 === 0 ? 1 : 0} 0 ${step}`;
  }
  return d;
};
const fins = (x: number, y: number, width: number, height: number, n: number) =>
  Array.from({ length: n }, (_, i) => `M${(x + (width * (i + 0.5)) / n).toFixed(1)} ${y}v${height}`).join('');

function Fan({ x, y, r }: { x: number; y: number; r: number }) {
  const blade = `M${x} ${y}q${r * 0.75} ${-r * 0.15} ${r * 0.55} ${-r * 0.75}q${-r * 0.6} 0 ${-r * 0.55} ${r * 0.75}`;
  return (
    <g>
      <circle cx={x} cy={y} r={r} />
      {[0, 120, 240].map((turn) => (
        <path key={turn} class="solid" d={blade} transform={`rotate(${turn} ${x} ${y})`} />
      ))}
    </g>
  );
}
function Thermometer({ x, y }: { x: number; y: number }) {
  return (
    <g>
      <path d={`M${x - 5} ${y + 12}v-34a5 5 0 0 1 10 0v34a9 9 0 1 1 -10 0`} />
      <path class="thick" d={`M${x} ${y + 18}v-24`} />
    </g>
  );
}

export type Condenser = 'finned_fan' | 'wire_tube_natural' | 'wire_tube_fan';

export function MachinePicture({
  condenser,
  evaporatorFan,
}: {
  condenser: Condenser;
  evaporatorFan: boolean;
}) {
  const wire = condenser !== 'finned_fan';
  const fan = condenser !== 'wire_tube_natural';
  return (
    <svg class="machine" viewBox="0 0 360 580" aria-hidden="true">
      <rect class="inside" x="4" y="4" width="352" height="140" rx="12" />
      <rect x="10" y="10" width="340" height="128" rx="7" />
      <rect class="works" x="4" y="150" width="352" height="426" rx="12" />
      {/* evaporator: the coil and its fan */}
      <path class="fins" d={fins(116, 36, 52, 70, 9)} />
      <path class="pipe cold" d={zigzag(116, 42, 52, 5, 14.5)} />
      {evaporatorFan && <Fan x={200} y={72} r={18} />}
      <Thermometer x={238} y={68} />
      {/* suction line down to the shell; the capillary clings to it: that is the exchanger */}
      <path class="pipe cold" d="M116 100v-58" opacity="0" />
      <path class="pipe cold" d="M168 100.5h6v16h-48v222" />
      <path class="exchanger" d="M118 168h22v80h-22z" />
      <path class="capillary" d="M214 178v-14h-22" />
      <path
        class="capillary"
        d="M192 164c-12 0-20 8-20 18s8 18 16 18 14-8 14-16-8-18-16-18-18 8-18 18 8 22 18 22 16-8 16-18M172 190c-4 10-8 50-37 50v-126h-29v-72h10"
      />
      {/* drier */}
      <path class="pipe" d="M214 292v-52" />
      <path class="body" d="M203 190q0-8 11-12q11 4 11 12v38q0 8-11 12q-11-4-11-12z" />
      <path class="fins" d="M203 200h22M203 218h22" />
      {/* condenser */}
      <path class="fins" d={wire ? fins(188, 284, 50, 72, 13) : fins(190, 286, 34, 68, 8)} />
      <path class="pipe hot" d={zigzag(wire ? 190 : 192, 292, wire ? 46 : 30, 5, 14)} />
      {fan && <Fan x={wire ? 214 : 242} y={wire ? 372 : 320} r={14} />}
      {/* discharge line */}
      <path class="pipe hot" d={`M168 398h14v36h${fan && wire ? 64 : 58}V${fan && wire ? 348 : 348}h-18`} />
      <path class="heat" d="M196 448q5-5 0-10t0-10M208 448q5-5 0-10t0-10" />
      {/* compressor */}
      <path class="body" d="M110 404v-38q0-30 30-30t30 30v38q0 12-30 12t-30-12z" />
      <path d="M110 378h60M118 416v8M162 416v8M112 424h14M154 424h14" />
      <path class="body" d="M104 386h12v18h-12z" />
      {/* plug */}
      <path class="cord" d="M110 404v30q0 20 15 30t15 26v12" />
      <path class="body" d="M126 502h28v16q0 12-14 12t-14-12zM133 530v12M147 530v12" />
      <Thermometer x={238} y={522} />
    </svg>
  );
}
