// One of many: the browser's own list, with its label above.
import { useId } from 'preact/hooks';

export function Pick({
  label,
  said,
  value,
  options,
  onPick,
  name,
}: {
  label: string;
  /** Said aloud instead of the label, where several lists look alike. */
  said?: string;
  value: string;
  options: readonly { value: string; label: string }[];
  onPick: (value: string) => void;
  name?: string;
}) {
  const id = useId();
  return (
    <div class="field one-of">
      <label for={id} class="small">
        {label}
      </label>
      <select
        id={id}
        value={value}
        aria-label={said}
        data-name={name}
        onChange={(e) => onPick(e.currentTarget.value)}
      >
        {options.map((o) => (
          <option key={o.value} value={o.value} selected={o.value === value}>
            {o.label}
          </option>
        ))}
      </select>
    </div>
  );
}
