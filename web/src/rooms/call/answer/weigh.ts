// What a finding did to the leading cause, and what a reading would tell: numbers to words.
import { number, say } from '../../../words/words';

export interface Pull {
  way: 'for' | 'against' | 'neither';
  strength: 'slight' | 'clear' | 'strong';
  bits: number;
}

/** Beyond this the number says nothing more. */
const mostBits = 20;

/** Natural log odds to bits: one bit doubles or halves the odds. */
export function pull(logOdds: number): Pull {
  const bits = Math.min(Math.abs(logOdds) / Math.LN2, mostBits);
  return {
    way: bits < 0.05 ? 'neither' : logOdds > 0 ? 'for' : 'against',
    strength: bits < 1 ? 'slight' : bits < 3 ? 'clear' : 'strong',
    bits,
  };
}

export function pullText({ way, strength, bits }: Pull): string {
  if (way === 'neither') return say('answer.pull_neither');
  const shown = bits >= mostBits ? say('answer.over', { n: number(mostBits) }) : number(bits, 1);
  return say(`answer.pull_${way}_${strength}`, { bits: shown });
}

/** How much a reading still to take would tell, in words and bits. */
export function tellsText(bits: number): string {
  const key = bits < 0.1 ? 'little' : bits < 0.5 ? 'something' : 'much';
  const shown =
    bits >= 0.095
      ? number(bits, 1)
      : bits >= 0.005
        ? number(bits, 2)
        : say('answer.under', { n: number(0.01) });
  return say(`answer.tells_${key}`, { bits: shown });
}
