// What the screens hold of one call: signals to read, and the acts that append.
import { computed } from '@preact/signals';
import { writeCallFile } from './call_file';
import { redated, type CallLog } from './call_log';
import { appBegan, drawnBack, formatInstant, nextAt, parseInstant, slackMs } from './clock';
import type { NewRecord, PhotoBytes, RawEntry } from './entry';
import { plain, type LocalStore } from './local_store';
import { takenAt } from './photo_time';
import { shrink } from './photos';
import { StoreError, troubleOf } from './port';
import { standingRecords } from './standing';
import type { Entry, NewEntry, OpenCall, Trouble } from './store';

export function openCall(store: LocalStore, log: CallLog, release: () => void): OpenCall {
  let closed = false;
  const at = () => nextAt(store.clock, log.latest());
  /** A reading of a test counts when the gauge was looked at, not when it was typed. A time to come is none. */
  const timeOf = (entry: NewEntry) => {
    const given = typeof entry.at === 'string' ? parseInstant(entry.at) : NaN;
    return given <= store.clock.now() ? formatInstant(given, store.clock.offset(given)) : at();
  };
  const record = (entry: RawEntry): NewRecord => ({ entry, own: true, noted: store.noted() });
  const append = (entry: RawEntry) => store.journal.submit(store.batch(log.id, [record(entry)]));

  /** The core refuses a correction of what isn't there, or of another kind. */
  const checkReplaces = (entry: NewEntry) => {
    if (entry.replaces === undefined) return;
    const target = log.all.peek().find((r) => r.entry.id === entry.replaces);
    if (!target || (target.entry.kind !== entry.kind && entry.kind !== 'note'))
      throw new StoreError('bad_replaces');
  };
  const turn = async (which: 'undo' | 'redo') => {
    const step = log.turns.peek()[which]();
    if (step) await append({ ...step, at: step.at ?? at() });
  };

  return {
    id: log.id,
    name: log.name,
    log: log.log,
    standing: log.standing,
    apart: log.apart,
    trouble: computed<Trouble | null>(() => {
      const kind = store.journal.trouble.value ?? store.photoJournal.trouble.value;
      const unsaved = store.pending(log.id).reduce((n, batch) => n + Math.max(1, batch.records.length), 0);
      return kind && { kind, unsaved };
    }),
    canUndo: computed(() => log.turns.value.undo() !== null),
    canRedo: computed(() => log.turns.value.redo() !== null),

    add: async (entry: NewEntry) => {
      checkReplaces(entry);
      const made = { ...plain(entry), id: crypto.randomUUID(), at: timeOf(entry) } as Entry;
      await append(made);
      return made;
    },
    addAll: async (entries: readonly NewEntry[]) => {
      entries.forEach(checkReplaces);
      const made = entries.map(
        (entry) => ({ id: crypto.randomUUID(), ...plain(entry), at: timeOf(entry) }) as Entry,
      );
      if (made.length > 0) await store.journal.submit(store.batch(log.id, made.map(record)));
      return made;
    },
    undo: () => turn('undo'),
    redo: () => turn('redo'),
    rename: async (name: string) => {
      if (name === log.name.peek()) return;
      const named = standingRecords(log.all.peek(), 'file').findLast((r) => r.entry.kind === 'call_name');
      const replaces = named ? { replaces: named.entry.id } : {};
      const { call, units, demo } = (named?.entry ?? { call: log.id }) as Record<string, unknown>;
      const kept = plain({ call, units, demo });
      await append({ ...kept, id: crypto.randomUUID(), kind: 'call_name', at: at(), name, ...replaces });
    },
    file: () => log.file(store.clock),

    addPhoto: async (of: string | null, photo: Blob) => {
      const small = await shrink(photo);
      const format = (ms: number) => formatInstant(ms, store.clock.offset(ms));
      const file = photo as Partial<File>;
      const blob = crypto.randomUUID();
      const entry: Entry = {
        ...{ id: crypto.randomUUID(), kind: 'photo', at: at(), blob, type: small.type },
        ...{ width: small.width, height: small.height, original_bytes: photo.size },
        ...(file.name ? { original_name: file.name } : {}),
        ...(of === null ? {} : { of }),
        ...takenAt(await photo.arrayBuffer(), file.lastModified, format),
      };
      const batch = store.batch(log.id, [record(entry)]);
      await keepPhoto(store, { ...batch, photos: [{ blob, type: small.type, bytes: small.bytes }] });
      return entry;
    },
    photo: async (entryId: string) => {
      const entry = log.all.peek().find((r) => r.entry.id === entryId)?.entry;
      const bytes = typeof entry?.blob === 'string' ? await bytesOf(store, log.id, entry.blob) : null;
      return bytes && new Blob([bytes.bytes], { type: bytes.type });
    },
    exportFile: async ({ photos = true } = {}) => {
      await drawBack(store, log);
      return fileOf(store, log, photos);
    },
    close: () => {
      if (!closed) release();
      closed = true;
    },
  };
}

/** Photos are refused before text is: one that doesn't fit is not taken at all, and the person knows. Where
    nothing can be stored anyway it is held like the rest. */
async function keepPhoto(store: LocalStore, batch: Parameters<LocalStore['commit']>[0]): Promise<void> {
  try {
    await store.commit(batch);
  } catch (error) {
    if (troubleOf(error) === 'quota') throw new StoreError('quota');
    await store.photoJournal.submit(batch);
  }
}

async function bytesOf(store: LocalStore, call: string, blob: string): Promise<PhotoBytes | null> {
  const held = store
    .pending(call)
    .flatMap((batch) => batch.photos ?? [])
    .find((photo) => photo.blob === blob);
  return held ?? (await store.port.photo(call, blob).catch(() => null));
}

/** Before a file leaves: entries a clock set ahead has written get a time that has been, for good. A clock that
    lost its date says nothing about them. */
async function drawBack(store: LocalStore, log: CallLog): Promise<void> {
  const now = store.clock.now();
  const records = log.all.peek().filter((r) => r.entry.at !== undefined);
  const ahead = records.some((r) => log.instant(r) > now + slackMs);
  if (now < appBegan || !ahead) return;
  const moved = [...drawnBack(records, log.instant, now)];
  const noted = store.noted();
  const entries = moved.map(([id, ms]) => redated(id, formatInstant(ms, store.clock.offset(ms))));
  await store.journal.submit(
    store.batch(
      log.id,
      entries.map((entry) => ({ entry, own: false, noted })),
    ),
  );
}

async function fileOf(store: LocalStore, log: CallLog, withPhotos: boolean): Promise<Blob> {
  const records = log.all.peek().filter((r) => r.entry.kind !== 'call_removed');
  const entries = records.map((r) => {
    const { at: _, ...entry } = r.entry;
    const at = log.time(r);
    return at === undefined ? entry : { ...entry, at };
  });
  const blobs = new Set(
    records.flatMap(({ entry }) =>
      entry.kind === 'photo' && typeof entry.blob === 'string' ? [entry.blob] : [],
    ),
  );
  const photos: PhotoBytes[] = [];
  for (const blob of withPhotos ? blobs : []) {
    const bytes = await bytesOf(store, log.id, blob);
    if (bytes) photos.push(bytes);
  }
  const units = records.find((r) => r.entry.kind === 'call_name' && r.entry.units)?.entry.units;
  return writeCallFile(log.name.peek(), units as string | undefined, entries, photos);
}
