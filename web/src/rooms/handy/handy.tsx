// The tools that are always at hand, each one screen.
import { Frame } from '../../shell/frame';
import { href } from '../../shell/route';
import { say } from '../../words/words';
import { ToolIcon } from './tool_icon';
import { tools } from './tools';
import './handy.css';

export function Handy({ tool }: { tool: string | null }) {
  const Screen = tools.find((t) => t.id === tool)?.screen;
  if (Screen) return <Screen key={tool} />;
  return (
    <Frame title={say('handy.title')}>
      <ul class="tools">
        {tools.map((t) => (
          <li key={t.id}>
            <a href={href({ room: 'handy', tool: t.id })} data-name={`tool-${t.id}`}>
              <ToolIcon name={t.icon} />
              <span>
                <strong>{say(t.name)}</strong>
                <span class="quiet small">{say(t.answers)}</span>
              </span>
            </a>
          </li>
        ))}
        <li>
          <a href={href({ room: 'trace' })} data-name="tool-trace">
            <ToolIcon name="trace" />
            <span>
              <strong>{say('trace.title')}</strong>
              <span class="quiet small">{say('trace.answers')}</span>
            </span>
          </a>
        </li>
      </ul>
    </Frame>
  );
}
