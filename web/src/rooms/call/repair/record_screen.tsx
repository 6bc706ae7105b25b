// The record that the repair leaves: for whom, on which paper, signed, and taken along.
import type { OpenCall } from '../../../store/store';
import { Signatures } from './signature';

export function RecordScreen({ call }: { call: OpenCall }) {
  return <Signatures call={call} />;
}
