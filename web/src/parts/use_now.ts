// The clock of a screen on which a time runs.
import { useEffect, useState } from 'preact/hooks';

/** Now, told anew every so many milliseconds; it stands still where `every` is null. */
export function useNow(every: number | null): number {
  const [now, setNow] = useState(Date.now());
  useEffect(() => {
    if (every === null) return;
    setNow(Date.now()); // it stood still
    const timer = setInterval(() => setNow(Date.now()), every);
    return () => clearInterval(timer);
  }, [every]);
  return now;
}
