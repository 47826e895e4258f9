import { Button } from 'react-aria-components';
import { useState } from 'react';
import type { SongSource } from '../../../protocol/job-messages.js';
import { sourceOfHandle } from '../../files/source-of-handle.js';
import type { KeptSong } from '../../state/kept-sessions.js';

export interface RecentSongsProps {
  /** Null while the browser is asked. */
  readonly songs: readonly KeptSong[] | null;
  onOpen(source: SongSource): void;
}

/** Songs whose sessions this browser keeps; those of dropped files are opened by dropping them again. */
export function RecentSongs({ songs, onOpen }: RecentSongsProps) {
  if (songs === null) return null;
  if (songs.length === 0) return <p className="note">None yet. Sessions of this browser will be listed here.</p>;
  return (
    <ol className="recent">
      {songs.slice(0, 6).map((song) => (
        <li key={song.id}>
          <b>{song.name}</b>
          <span className="note">{new Date(song.saved_ms).toLocaleString()}</span>
          <Reopen song={song} onOpen={onOpen} />
        </li>
      ))}
    </ol>
  );
}

function Reopen({ song, onOpen }: { readonly song: KeptSong; onOpen(source: SongSource): void }) {
  const { handle, isDemo } = song;
  const [refused, setRefused] = useState(false);
  if (isDemo) {
    return (
      <Button className="word-button slim" onPress={() => onOpen({ kind: 'demo' })}>
        Open
      </Button>
    );
  }
  if (handle === null) return <span className="note">drop its files again; the session is kept</span>;
  const open = async () => {
    const source = await sourceOfHandle(handle);
    if (source === null) setRefused(true);
    else onOpen(source);
  };
  return (
    <>
      <Button className="word-button slim" onPress={() => void open()}>
        Open
      </Button>
      {refused && (
        <span className="note" role="status">
          the folder may not be read, or is gone: allow it, or choose it again; the session is kept
        </span>
      )}
    </>
  );
}
