// The tools, in the order of the list: what is asked most stands first.
import type { ComponentType } from 'preact';
import type { Key } from '../../words/words';
import type { ToolIconName } from './tool_icon';
import { Convert } from './tools/convert';
import { LeakOfBlend } from './tools/leak';
import { PressureCard } from './tools/card';
import { RefrigerantSheet } from './tools/sheet';
import { Saturation } from './tools/saturation';

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
    id: 'quantity',
    icon: 'convert',
    name: 'handy.convert',
    answers: 'handy.convert_answers',
    screen: Convert,
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
