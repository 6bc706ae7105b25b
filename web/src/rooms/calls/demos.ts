// The demo calls of data/demo: invented machines, readings computed by our own models.
interface CallFile {
  call: string;
  entries: object[];
}
const files = import.meta.glob<CallFile>('../../../../data/demo/[0-9]*.json', {
  eager: true,
  import: 'default',
});
export const demos: readonly CallFile[] = Object.keys(files)
  .sort()
  .map((path) => files[path]!);
