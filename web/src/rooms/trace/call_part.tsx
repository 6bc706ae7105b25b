// What of this room stands within a call's read stage, in one piece to load.
import type { OpenCall } from '../../store/store';
import { SeriesBody } from './series_body';
import { TraceBody } from './trace_body';

export default function CallPart({ call, part }: { call: OpenCall; part: string }) {
  return part === 'series' ? <SeriesBody call={call} /> : <TraceBody call={call} />;
}
