// The tools, in the order of the list: what is asked most stands first.
import type { ComponentType } from 'preact';
import type { Key } from '../../words/words';
import type { ToolIconName } from './tool_icon';
import { Convert } from './tools/convert';
import { HoseContents } from './tools/hose';
import { LeakOfBlend } from './tools/leak';
import { PressureCard } from './tools/card';
import { ChargeAndRoom } from './tools/room';
import { RefrigerantSheet } from './tools/sheet';
import { Saturation } from './tools/saturation';
import { StandingPressure } from './tools/standing';
import { Superheat } from './tools/superheat';
import { Targets } from './tools/targets';
import { Vacuum } from './tools/vacuum';

export interface Tool {
  id: string;
  icon: ToolIconName;
  name: Key;
  /** One line: the question it answers. */
  answers: Key;
  screen: ComponentType;
}

export const tools: readonly Tool[] = [
  {
    id: 'saturation',
    icon: 'curve',
    name: 'handy.saturation',
    answers: 'handy.saturation_answers',
    screen: Saturation,
  },
  {
    id: 'superheat',
    icon: 'between',
    name: 'handy.superheat',
    answers: 'handy.superheat_answers',
    screen: Superheat,
  },
  { id: 'targets', icon: 'aim', name: 'handy.targets', answers: 'handy.targets_answers', screen: Targets },
  {
    id: 'quantity',
    icon: 'convert',
    name: 'handy.convert',
    answers: 'handy.convert_answers',
    screen: Convert,
  },
  { id: 'vacuum', icon: 'vacuum', name: 'handy.vacuum', answers: 'handy.vacuum_answers', screen: Vacuum },
  { id: 'room', icon: 'room', name: 'handy.room', answers: 'handy.room_answers', screen: ChargeAndRoom },
  { id: 'hose', icon: 'hose', name: 'handy.hose', answers: 'handy.hose_answers', screen: HoseContents },
  {
    id: 'standing',
    icon: 'standing',
    name: 'handy.standing',
    answers: 'handy.standing_answers',
    screen: StandingPressure,
  },
  { id: 'card', icon: 'table', name: 'handy.card', answers: 'handy.card_answers', screen: PressureCard },
  {
    id: 'refrigerant',
    icon: 'bottle',
    name: 'handy.sheet',
    answers: 'handy.sheet_answers',
    screen: RefrigerantSheet,
  },
  { id: 'leak', icon: 'drops', name: 'handy.leak', answers: 'handy.leak_answers', screen: LeakOfBlend },
];
