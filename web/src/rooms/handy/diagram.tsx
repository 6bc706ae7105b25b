// A drawing by the core for what is typed, beneath its answer.
import { useRef } from 'preact/hooks';
import type { UseCases } from '../../engine/engine';
import { Picture, usePictureWidth } from '../../parts/picture';
import { useAsk } from '../../shell/use_ask';

export function Diagram({ request, title }: { request: UseCases['chart']['request']; title: string }) {
  const section = useRef<HTMLElement>(null);
  const width = usePictureWidth(section);
  const asked = useAsk('chart', width ? { ...request, picture_width: width } : null, 250);
  const svg = asked.answer?.svg;
  return (
    <section class="stack" hidden={asked.problem !== null} ref={section}>
      <h2>{title}</h2>
      <Picture svg={svg} waiting={!svg || asked.busy} name="diagram" />
    </section>
  );
}
