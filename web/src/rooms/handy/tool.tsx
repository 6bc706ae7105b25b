// What every tool is made of: a headline that stays in sight, fields, facts, cautions, sources.
import { citation } from '../../parts/citation';
import type { ComponentChildren } from 'preact';
import type { Problem } from '../../engine/engine';
import { Disclosure, Notice } from '../../parts/parts';
import { Frame } from '../../shell/frame';
import { say } from '../../words/words';
import { concerns, worded } from './problems';

export interface Said {
  label: string;
  text: string;
}

/** With a gap before the unit at which a narrow column may part. */
export const breakable = (text: string) => text.replace(/[\u00a0\u202f]/g, ' ');

/** The answer in big figures; it stays at the top while the fields scroll, so that it is seen while typing.
    Without figures it says what to type. */
export function Headline({
  figures,
  waiting,
  note,
}: {
  figures: readonly Said[] | null;
  waiting: string;
  note?: ComponentChildren;
}) {
  return (
    <output class="headline" data-name="headline">
      {figures && figures.length > 0 ? (
        <dl class={figures.length > 1 ? 'several' : figures[0]!.text.length > 11 ? 'long' : undefined}>
          {figures.map((f) => (
            <div key={f.label}>
              <dt>{f.label}</dt>
              <dd>{f.text}</dd>
            </div>
          ))}
        </dl>
      ) : (
        <p class="quiet">{waiting}</p>
      )}
      {figures && note && <p class="small">{note}</p>}
    </output>
  );
}

/** Label and value, one a line. */
export function Facts({
  title,
  facts,
}: {
  title?: string;
  facts: readonly (Said | null | false | undefined)[];
}) {
  const shown = facts.filter((f): f is Said => !!f);
  if (shown.length === 0) return null;
  return (
    <section class="facts" aria-label={title}>
      {title && <h2>{title}</h2>}
      <dl>
        {shown.map((f) => (
          <div key={f.label}>
            <dt>{f.label}</dt>
            <dd>{f.text}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

interface Statement {
  key: string;
  text: string;
}

/** The answer's cautions, where the hand acts. */
export function Cautions({ lines }: { lines: readonly Statement[] | undefined }) {
  if (!lines || lines.length === 0) return null;
  return (
    <Notice tone="warn">
      {lines.map((l) => (
        <p key={l.text}>{l.text}</p>
      ))}
    </Notice>
  );
}

/** What the answer remarks about itself. */
export function Remarks({ lines }: { lines: readonly Statement[] | undefined }) {
  return (
    <>
      {lines?.map((l) => (
        <p key={l.text} class="small">
          {l.text}
        </p>
      ))}
    </>
  );
}

export interface About {
  program: string;
  version: string;
  data: string;
  references: readonly { key: string; citation: string }[];
}

export function RestsOn({ about, children }: { about: About | undefined; children?: ComponentChildren }) {
  if (!about) return null;
  return (
    <Disclosure summary={say('handy.rests_on')}>
      {children}
      <ul class="sources stack small">
        {about.references.map((r) => (
          <li key={r.key} class="citation">
            {citation(r)}
          </li>
        ))}
      </ul>
      <p class="small quiet">{say('handy.version', { version: about.version, data: about.data })}</p>
    </Disclosure>
  );
}

/** A problem that none of the screen's fields is to blame for. */
export function OtherProblem({ problem, fields }: { problem: Problem | null; fields: readonly string[] }) {
  if (!problem || fields.some((f) => concerns(problem, f))) return null;
  return <Notice tone="bad">{worded(problem)}</Notice>;
}

export function ToolScreen({ title, children }: { title: string; children: ComponentChildren }) {
  return (
    <Frame title={title} back={{ room: 'handy', tool: null }}>
      <div class="tool">{children}</div>
    </Frame>
  );
}
