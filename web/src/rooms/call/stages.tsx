// Which screen belongs to which stage. Each stage is a folder or file of its own beside this one.
import type { Stage } from '../../shell/route';
import type { OpenCall } from '../../store/store';
import { AnswerStage } from './answer/answer';
import { DoStage } from './do/do';
import { LookStage } from './look/look';
import { ReadStage } from './read/read';
import { SafetyStage } from './safety/safety';
import { UnitStage } from './unit/unit';

const screens = {
  unit: UnitStage,
  safety: SafetyStage,
  look: LookStage,
  read: ReadStage,
  answer: AnswerStage,
  do: DoStage,
} satisfies Record<Stage, unknown>;

export function StageOf({ call, stage }: { call: OpenCall; stage: Stage }) {
  const Screen = screens[stage];
  return <Screen call={call} />;
}
