// Photos of an entry: taken, shown small, opened large.
import { useEffect, useRef, useState } from 'preact/hooks';
import { Button, Sheet } from '../../../parts/parts';
import type { Entry, OpenCall } from '../../../store/store';
import { moment, say } from '../../../words/words';
import { photosOf, withdrawal } from './fold';

function useUrl(call: OpenCall, id: string): string | null {
  const [url, set] = useState<string | null>(null);
  useEffect(() => {
    let made: string | null = null;
    let left = false;
    void call.photo(id).then((blob) => {
      if (!blob || left) return;
      set((made = URL.createObjectURL(blob)));
    });
    return () => {
      left = true;
      if (made) URL.revokeObjectURL(made);
    };
  }, [id]);
  return url;
}

function Thumb({ call, photo, of }: { call: OpenCall; photo: Entry; of: string }) {
  const url = useUrl(call, photo.id);
  const [large, setLarge] = useState(false);
  const label = say('call.photo_of', { what: of, when: moment(photo.at) });
  return (
    <>
      <button type="button" class="thumb" aria-label={label} onClick={() => setLarge(true)}>
        {url && <img src={url} alt="" />}
      </button>
      {large && (
        <Sheet title={of} onClose={() => setLarge(false)}>
          {url && <img class="photo-large" src={url} alt={label} />}
          <p class="quiet small">{moment(photo.at)}</p>
          <Button
            kind="danger"
            icon="trash"
            onPress={() => {
              setLarge(false);
              void call.add(withdrawal(photo));
            }}
          >
            {say('call.photo_withdraw')}
          </Button>
        </Sheet>
      )}
    </>
  );
}

export function Photos({ call, entry, of }: { call: OpenCall; entry: Entry; of: string }) {
  const picker = useRef<HTMLInputElement>(null);
  const [failed, setFailed] = useState(false);
  const photos = photosOf(call.log.value, call.standing.value, entry);
  const take = async (file: File | undefined) => {
    if (!file) return;
    try {
      await call.addPhoto(entry.id, file);
      setFailed(false);
    } catch {
      setFailed(true);
    }
  };
  return (
    <>
      <Button
        icon="camera"
        kind="bare"
        label={say('call.photo_add', { what: of })}
        onPress={() => picker.current?.click()}
        name={`photo:${entry.id}`}
      />
      <input
        ref={picker}
        type="file"
        accept="image/*"
        capture="environment"
        class="spoken"
        tabIndex={-1}
        aria-label={say('call.photo_add', { what: of })}
        onChange={(e) => {
          void take(e.currentTarget.files?.[0]);
          e.currentTarget.value = '';
        }}
      />
      {failed && (
        <span class="problem small" role="alert">
          {say('call.photo_failed')}
        </span>
      )}
      {photos.map((p) => (
        <Thumb key={p.id} call={call} photo={p} of={of} />
      ))}
    </>
  );
}
