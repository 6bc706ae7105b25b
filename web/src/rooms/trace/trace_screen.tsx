// The trace room by itself, from the list of tools: what it finds goes into a call that is chosen.
import { Frame } from '../../shell/frame';
import { say } from '../../words/words';
import { TraceBody } from './trace_body';

export default function TraceScreen() {
  return (
    <Frame title={say('trace.title')} back={{ room: 'handy', tool: null }}>
      <TraceBody call={null} />
    </Frame>
  );
}
