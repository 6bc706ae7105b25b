// Which screen belongs to which stage. Each stage is a folder or file of its own beside this one.
import { later } from '../../parts/later';
import type { Stage } from '../../shell/route';
import type { OpenCall } from '../../store/store';
import { AnswerStage } from './answer/answer';
import { DoStage } from './do/do';
import { LookStage } from './look/look';
import { ReadStage } from './read/read';
import { RepairPart } from './repair/repair_part';
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

const TracePart = later(() => import('../trace/call_part'));

export function StageOf({ call, stage, part }: { call: OpenCall; stage: Stage; part: string | null }) {
  if (stage === 'do' && part) return <RepairPart key={part} call={call} part={part} />;
  if (stage === 'read' && part) return <TracePart key={part} call={call} part={part} />;
  const Screen = screens[stage];
  return <Screen call={call} />;
}
