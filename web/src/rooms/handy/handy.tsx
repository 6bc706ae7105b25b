// The tools that are always at hand, each one screen.
import { Frame } from '../../shell/frame';
import { say } from '../../words/words';

export function Handy({ tool }: { tool: string | null }) {
  return (
    <Frame title={say('handy.title')} back={tool ? { room: 'handy', tool: null } : undefined}>
      {null}
    </Frame>
  );
}
