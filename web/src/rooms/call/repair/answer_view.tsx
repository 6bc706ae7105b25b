// A procedure's answer: the verdict, what is asked back, sentences, figures that open to formula, inputs and
// source, tables, plots.
import { citation } from '../../../parts/citation';
import { Disclosure, Notice } from '../../../parts/parts';
import { say, sayCount } from '../../../words/words';
import { breakable, RestsOn } from '../../handy/tool';
import type { AnswerTable, Curve, Figure, ProcedureAnswer, Told } from './answer_types';
import { CurveView } from './curve_view';

/** The cautions stand where the hand acts: above the fields of the step. While a test runs (`folded`) they are
    one tap away, so that the next reading is within reach. */
export function StepCautions({ lines, folded }: { lines: readonly Told[]; folded?: boolean }) {
  const once = lines.filter((l, i) => lines.findIndex((o) => o.text === l.text) === i);
  if (once.length === 0) return null;
  const all = once.map((l) => <p key={l.text}>{l.text}</p>);
  if (!folded) return <Notice tone="warn">{all}</Notice>;
  return (
    <Notice tone="warn">
      <Disclosure summary={sayCount('repair.cautions', once.length)}>{all}</Disclosure>
    </Notice>
  );
}

export function Verdict({ answer }: { answer: ProcedureAnswer | null }) {
  return (
    <div class="stack" aria-live="polite">
      {answer?.asks.map((a) => (
        <Notice tone="warn" key={a.text}>
          <p data-name={`asked:${a.key}`}>{a.text}</p>
        </Notice>
      ))}
      {answer?.verdict && (
        <p class="verdict" data-name="verdict" data-key={answer.verdict.key}>
          {answer.verdict.text}
        </p>
      )}
    </div>
  );
}

export function Statements({ answer }: { answer: ProcedureAnswer | null }) {
  if (!answer || answer.statements.length === 0) return null;
  return (
    <div class="stack">
      {answer.statements.map((s) => (
        <p key={s.text}>{s.text}</p>
      ))}
    </div>
  );
}

export function FigureRow({ figure, about }: { figure: Figure; about: ProcedureAnswer['about'] }) {
  const sources = about.references.filter((r) => figure.cited.includes(r.key));
  return (
    <details class="figure disclosure" data-name={`figure:${figure.key}`}>
      <summary>
        <span class="of">{figure.label}</span>
        <strong class="is">{breakable(figure.text)}</strong>
      </summary>
      <div class="stack inside">
        {figure.formula && <p class="formula">{figure.formula}</p>}
        {figure.where.length > 0 && (
          <dl class="where">
            {figure.where.map((w) => (
              <div key={w.key}>
                <dt>
                  {w.symbol && <span class="symbol">{w.symbol}</span>} {w.label}
                </dt>
                <dd>{breakable(w.text)}</dd>
              </div>
            ))}
          </dl>
        )}
        <p class="small quiet">{figure.basis_text}</p>
        {sources.length > 0 && (
          <ul class="sources stack small">
            {sources.map((r) => (
              <li key={r.key} class="citation">
                {citation(r)}
              </li>
            ))}
          </ul>
        )}
      </div>
    </details>
  );
}

export function TableView({ table }: { table: AnswerTable }) {
  return (
    <section class="stack tool opened-table" aria-label={table.label}>
      <h3>{table.label}</h3>
      <div class="wide-table" tabIndex={0} role="region" aria-label={table.label}>
        <table>
          <thead>
            <tr>
              {table.columns.map((c) => (
                <th scope="col" key={c.key}>
                  {'label' in c ? c.label : ''}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.rows.map((row, i) => (
              <tr key={i}>
                {row.map((cell, n) =>
                  n === 0 ? (
                    <th scope="row" key={n}>
                      {breakable(cell)}
                    </th>
                  ) : (
                    <td key={n} class={cell.length > 24 ? undefined : 'number'}>
                      {breakable(cell)}
                    </td>
                  ),
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

/** Those with something measured first. */
export function Curves({ answer }: { answer: ProcedureAnswer | null }) {
  const measured = (c: Curve) => (c.lines.some((l) => l.kind === 'measured' && l.points.length > 0) ? 0 : 1);
  return (
    <>
      {answer?.curves
        .filter((c) => c.lines.some((l) => l.points.length > 0))
        .sort((a, b) => measured(a) - measured(b))
        .map((c) => (
          <CurveView key={c.key} curve={c} />
        ))}
    </>
  );
}

/** All that is under the headline: figures with what is behind them, tables, sources. */
export function Reckoned({ answer }: { answer: ProcedureAnswer | null }) {
  if (!answer) return null;
  return (
    <>
      {answer.figures.length > 0 && (
        <section class="figures" aria-label={say('repair.figures')}>
          <h3>{say('repair.figures')}</h3>
          <p class="small quiet">{say('repair.figures_open')}</p>
          {answer.figures.map((f) => (
            <FigureRow key={f.key} figure={f} about={answer.about} />
          ))}
        </section>
      )}
      {answer.tables.map((t) =>
        t.rows.length > 8 ? (
          <Disclosure key={t.key} summary={t.label}>
            <TableView table={t} />
          </Disclosure>
        ) : (
          <TableView key={t.key} table={t} />
        ),
      )}
      <RestsOn about={answer.about} />
    </>
  );
}
