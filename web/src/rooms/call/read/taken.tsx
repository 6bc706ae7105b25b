// The readings taken: each with what a sound machine shows, its time and trace; tap to correct, or take again.
import { Button } from '../../../parts/parts';
import type { Entry, OpenCall } from '../../../store/store';
import { moment, say } from '../../../words/words';
import type { Line } from './drawing';
import { withdrawal } from './fold';
import { Mark } from './mark';
import { Photos } from './photos';
import { TraceView } from './trace_view';

export function Taken({
  call,
  line,
  list,
  onCorrect,
  onAgain,
}: {
  call: OpenCall;
  line: Line;
  list: readonly Entry[];
  onCorrect: (entry: Entry) => void;
  onAgain: () => void;
}) {
  const entry = list.at(-1)!;
  const details = [
    moment(entry.at),
    entry.running_for && say('call.ran', { time: String(entry.running_for) }),
    entry.instrument,
    entry.accuracy && `±${String(entry.accuracy)}`,
  ]
    .filter(Boolean)
    .join(' · ');
  return (
    <li class="taken" data-name={`taken:${line.what}`}>
      <button type="button" class="taken-value" onClick={() => onCorrect(entry)}>
        <span class="label">{line.label}</span>
        <strong class="number actual">{line.actual}</strong>
        <span class="range small">{line.expected && say('call.sound_range', { range: line.expected })}</span>
        {line.is && <Mark is={line.is} word />}
        <span class="quiet small when">{details}</span>
        <span class="spoken">{say('call.correct', { what: line.label })}</span>
      </button>
      <div class="taken-acts">
        <TraceView list={list} label={line.label} />
        <Button
          icon="plus"
          kind="bare"
          label={say('call.again', { what: line.label })}
          onPress={onAgain}
          name={`again:${line.what}`}
        />
        <Photos call={call} entry={entry} of={line.label} />
        <Button
          icon="trash"
          kind="bare"
          label={say('call.withdraw', { what: line.label })}
          onPress={() => void call.add(withdrawal(entry))}
          name={`withdraw:${line.what}`}
        />
      </div>
    </li>
  );
}
