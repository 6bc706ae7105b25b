// The shared components: few, big, plain HTML underneath so that keyboard and screen reader work by themselves.
import type { ComponentChildren } from 'preact';
import { useId, useLayoutEffect, useRef } from 'preact/hooks';
import { say } from '../words/words';
import { Icon, type IconName } from './icon';

interface ButtonProps {
  children?: ComponentChildren;
  icon?: IconName;
  /** Said aloud where the icon stands alone. */
  label?: string;
  kind?: 'main' | 'plain' | 'bare' | 'danger';
  wide?: boolean;
  disabled?: boolean;
  onPress?: () => void;
  /** Makes it a link to another place in the app. */
  href?: string;
  name?: string;
}

export function Button({
  children,
  icon,
  label,
  kind = 'plain',
  wide,
  disabled,
  onPress,
  href,
  name,
}: ButtonProps) {
  const look = `button ${kind}${wide ? ' wide' : ''}`;
  const inside = (
    <>
      {icon && <Icon name={icon} />}
      {children}
    </>
  );
  return href ? (
    <a class={look} href={href} aria-label={label} data-name={name}>
      {inside}
    </a>
  ) : (
    <button
      type="button"
      class={look}
      aria-label={label}
      disabled={disabled}
      onClick={onPress}
      data-name={name}
    >
      {inside}
    </button>
  );
}

interface Option<T extends string> {
  value: T;
  label: string;
}
/** One of a few, each a big target. With `onClear` a second tap on the chosen one takes the choice back. */
export function Choice<T extends string>({
  legend,
  options,
  value,
  onChoose,
  onClear,
  hideLegend,
}: {
  legend: string;
  options: readonly Option<T>[];
  value: T | null;
  onChoose: (value: T) => void;
  onClear?: () => void;
  hideLegend?: boolean;
}) {
  const group = useId();
  return (
    <fieldset class="choice">
      <legend class={hideLegend ? 'spoken' : undefined}>{legend}</legend>
      <div class="options">
        {options.map((o) => (
          <label key={o.value}>
            <input
              type="radio"
              name={group}
              value={o.value}
              checked={o.value === value}
              onChange={() => onChoose(o.value)}
              onClick={() => o.value === value && onClear?.()}
            />
            {o.label}
          </label>
        ))}
      </div>
    </fieldset>
  );
}

export function Field({
  label,
  value,
  onInput,
  hint,
  problem,
  numeric,
  lines,
  name,
  onDone,
}: {
  label: string;
  value: string;
  onInput: (text: string) => void;
  hint?: ComponentChildren;
  problem?: string | null;
  /** Shows digits first, still lets units and words be typed. */
  numeric?: boolean;
  lines?: number;
  name?: string;
  /** The field was left or Enter was struck. */
  onDone?: () => void;
}) {
  const id = useId();
  const shared = {
    id,
    value,
    'data-name': name,
    'aria-invalid': problem ? ('true' as const) : undefined,
    'aria-describedby': `${id}-hint`,
    autocomplete: 'off',
    onBlur: onDone,
  };
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {lines ? (
        <textarea {...shared} rows={lines} onInput={(e) => onInput(e.currentTarget.value)} />
      ) : (
        <input
          {...shared}
          type="text"
          class={numeric ? 'number' : undefined}
          enterkeyhint="done"
          onInput={(e) => onInput(e.currentTarget.value)}
          onKeyDown={(e) => e.key === 'Enter' && onDone?.()}
        />
      )}
      <div id={`${id}-hint`} aria-live="polite">
        {problem ? <span class="problem">{problem}</span> : hint && <span class="hint">{hint}</span>}
      </div>
    </div>
  );
}

export function Notice({
  tone = 'note',
  children,
}: {
  tone?: 'note' | 'warn' | 'bad' | 'good';
  children: ComponentChildren;
}) {
  const icon: IconName = tone === 'good' ? 'tick' : tone === 'note' ? 'note' : 'warn';
  return (
    <div class={`notice ${tone}`} role={tone === 'bad' ? 'alert' : undefined}>
      <Icon name={icon} />
      <div class="stack">{children}</div>
    </div>
  );
}

/** A dialog that rises from the bottom, within the thumb's reach. Escape and the cross close it. */
export function Sheet({
  title,
  onClose,
  children,
}: {
  title: string;
  onClose: () => void;
  children: ComponentChildren;
}) {
  const ref = useRef<HTMLDialogElement>(null);
  const id = useId();
  // Before it is seen: later, it would take the focus away from a field that is being typed in already.
  useLayoutEffect(() => {
    const dialog = ref.current;
    dialog?.showModal();
    return () => dialog?.close();
  }, []);
  return (
    <dialog
      class="sheet"
      ref={ref}
      aria-labelledby={id}
      onCancel={(e) => {
        e.preventDefault();
        onClose();
      }}
      onClick={(e) => e.target === ref.current && onClose()}
    >
      <div class="content">
        <div class="top">
          <h2 id={id}>{title}</h2>
          <Button icon="close" kind="bare" label={say('shell.close')} onPress={onClose} />
        </div>
        {children}
      </div>
    </dialog>
  );
}

/** A share of one as a bar; the number stands beside it in words. */
export function Bar({ share, label }: { share: number; label: string }) {
  return (
    <div
      class="bar"
      role="meter"
      aria-label={label}
      aria-valuemin={0}
      aria-valuemax={100}
      aria-valuenow={Math.round(share * 100)}
    >
      <span class="settles" style={{ width: `${share * 100}%` }} />
    </div>
  );
}

export function Disclosure({
  summary,
  children,
  open,
}: {
  summary: ComponentChildren;
  children: ComponentChildren;
  open?: boolean;
}) {
  return (
    <details class="disclosure" open={open}>
      <summary>{summary}</summary>
      <div class="stack">{children}</div>
    </details>
  );
}
