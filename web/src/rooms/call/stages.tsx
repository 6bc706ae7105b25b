// Which screen belongs to which stage. Each stage is a folder or file of its own beside this one.
import type { Stage } from '../../shell/route';
import type { OpenCall } from '../../store/store';
import { say } from '../../words/words';
import { AnswerStage } from './answer/answer';
import { DoStage } from './do/do';

export function StageOf({ call, stage }: { call: OpenCall; stage: Stage }) {
  if (stage === 'answer') return <AnswerStage call={call} />;
  if (stage === 'do') return <DoStage call={call} />;
  return <h2>{say(`call.${stage}`)}</h2>;
}
