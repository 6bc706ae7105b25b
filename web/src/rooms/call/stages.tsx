// Which screen belongs to which stage. Each stage is a folder or file of its own beside this one.
import type { Stage } from '../../shell/route';
import type { OpenCall } from '../../store/store';
import { say } from '../../words/words';

export function StageOf({ stage }: { call: OpenCall; stage: Stage }) {
  return <h2>{say(`call.${stage}`)}</h2>;
}
