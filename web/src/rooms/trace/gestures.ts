// Hands on the plot: one finger drags, two stretch, the wheel stretches, a tap marks. Up and down stays the page's.
import { stretched, type View } from './window';

interface Grip {
  view(): View;
  timeAt(clientX: number): number;
  show(view: View): void;
  mark(t: number): void;
  /** All of it is in view: the wheel then moves the page again. */
  whole(): boolean;
}

const tapTravel = 8; // px: less is a tap whose finger rolled
const fingersApart = 12; // px: nearer than this, a pixel more or less would stretch without measure
const wheelStep = 0.25; // a notch of the wheel stretches by e to this, three of them to about double

export function gestures(place: HTMLElement, grip: Grip): () => void {
  const down = new Map<number, number>(); // pointer: where it is now
  let travelled = 0;
  let several = false;

  const press = (e: PointerEvent) => {
    if (e.pointerType === 'mouse' && e.button !== 0) return;
    down.set(e.pointerId, e.clientX);
    if (down.size === 1) {
      travelled = 0;
      several = false;
    } else several = true;
    place.setPointerCapture(e.pointerId);
  };
  const move = (e: PointerEvent) => {
    const was = down.get(e.pointerId);
    if (was === undefined || was === e.clientX) return;
    travelled += Math.abs(e.clientX - was);
    const [now, before] = [grip.timeAt(e.clientX), grip.timeAt(was)];
    const other = [...down].find(([id]) => id !== e.pointerId)?.[1];
    down.set(e.pointerId, e.clientX);
    const view = grip.view();
    if (other === undefined) {
      if (travelled > tapTravel)
        grip.show({ from: view.from - (now - before), to: view.to - (now - before) });
      return;
    }
    // The time under the other finger stays; the one under this finger goes with it.
    const still = grip.timeAt(other);
    const apart = now - still;
    const by = (before - still) / apart;
    if (Math.abs(e.clientX - other) > fingersApart && by > 0) grip.show(stretched(view, still, by));
  };
  const release = (e: PointerEvent) => {
    if (!down.delete(e.pointerId)) return;
    if (e.type === 'pointerup' && !several && travelled <= tapTravel) grip.mark(grip.timeAt(e.clientX));
  };
  const wheel = (e: WheelEvent) => {
    if (e.deltaY === 0 || (e.deltaY > 0 && grip.whole())) return;
    e.preventDefault();
    grip.show(stretched(grip.view(), grip.timeAt(e.clientX), Math.exp(Math.sign(e.deltaY) * wheelStep)));
  };
  place.addEventListener('pointerdown', press);
  place.addEventListener('pointermove', move);
  place.addEventListener('pointerup', release);
  place.addEventListener('pointercancel', release);
  place.addEventListener('wheel', wheel, { passive: false });
  return () => {
    place.removeEventListener('pointerdown', press);
    place.removeEventListener('pointermove', move);
    place.removeEventListener('pointerup', release);
    place.removeEventListener('pointercancel', release);
    place.removeEventListener('wheel', wheel);
  };
}
