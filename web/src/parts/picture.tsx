// A drawing by the core, asked for as "picture_width": as wide as its place and in the page's own colours.
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { RefObject } from 'preact';
import './picture.css';

/** One unit of the drawing in pixels of the page: its smallest words, 9 units, are then 12 px. */
const unit = 1.33;
const widest = 640;

/** The drawing as an element of this page, without anything that could bring a style or a script along. */
export function pictureOf(svg: string): SVGElement | null {
  const root = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  if (root.localName !== 'svg') return null;
  // The title would pop up under a finger; the heading beside says it.
  root.querySelectorAll('style, script, foreignObject, title').forEach((e) => e.remove());
  root.setAttribute('aria-labelledby', 'chart-desc');
  return document.importNode(root, true) as unknown as SVGElement;
}

/** How wide a picture to ask for in this place; 0 until it is measured. */
export function usePictureWidth(place: RefObject<HTMLElement | null>): number {
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const here = place.current!;
    const measure = () =>
      setWidth(Math.max(220, Math.round(Math.min(here.clientWidth, widest) / unit / 10) * 10));
    measure();
    const size = new ResizeObserver(measure);
    size.observe(here);
    return () => size.disconnect();
  }, []);
  return width;
}

/** The last drawing stays, set back, while `waiting` for the next. */
export function Picture({ svg, waiting, name }: { svg: string | undefined; waiting: boolean; name: string }) {
  const box = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const picture = svg ? pictureOf(svg) : null;
    if (picture) box.current!.replaceChildren(picture);
  }, [svg]);
  return <div ref={box} class={`chart-box${waiting ? ' stale' : ''}`} aria-busy={waiting} data-name={name} />;
}
