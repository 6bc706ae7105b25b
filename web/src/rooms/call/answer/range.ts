// The core's intervals as plain ranges in SI, so that a picture isn't bent where the unit changes on the way
// (inHg below the atmosphere, psig above).
import type { Range } from './scale';

interface Quantity {
  si: number | null;
}
interface Interval {
  low: Quantity;
  mid: Quantity;
  high: Quantity;
}

export function rangeOf({ low, mid, high }: Interval): Range {
  return { low: low.si ?? NaN, mid: mid.si ?? NaN, high: high.si ?? NaN };
}
