// A drawing by the core, as wide as the screen and in the page's own colours.
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { UseCases } from '../../engine/engine';
import { useAsk } from '../../shell/use_ask';
import './diagram.css';

/** One unit of the drawing in pixels of the page: its smallest words, 9 units, are then 12 px. */
const unit = 1.33;

/** The drawing as an element of this page, without anything that could bring a style or a script along. */
export function pictureOf(svg: string): SVGElement | null {
  const root = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  if (root.localName !== 'svg') return null;
  // The title would pop up under a finger; the heading beside says it.
  root.querySelectorAll('style, script, foreignObject, title').forEach((e) => e.remove());
  root.setAttribute('aria-labelledby', 'chart-desc');
  return document.importNode(root, true) as unknown as SVGElement;
}

export function Diagram({ request, title }: { request: UseCases['chart']['request']; title: string }) {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const measure = () =>
      setWidth(Math.max(220, Math.round(Math.min(box.current!.clientWidth, 640) / unit / 10) * 10));
    measure();
    const size = new ResizeObserver(measure);
    size.observe(box.current!);
    return () => size.disconnect();
  }, []);
  const asked = useAsk('chart', width ? { ...request, picture_width: width } : null, 250);
  const svg = asked.answer?.svg;
  useLayoutEffect(() => {
    const picture = svg ? pictureOf(svg) : null;
    if (picture) box.current!.replaceChildren(picture);
  }, [svg]);
  return (
    <section class="stack" hidden={asked.problem !== null}>
      <h2>{title}</h2>
      <div ref={box} class={`chart-box${svg ? '' : ' stale'}`} data-name="diagram" />
    </section>
  );
}
