import { Button } from 'react-aria-components';
import type { SongSource } from '../../../protocol/job-messages.js';
import { mayWrite } from '../../files/dropped-source.js';
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
  const { handle, isDemo, name } = song;
  if (isDemo) {
    return (
      <Button className="word-button slim" onPress={() => onOpen({ kind: 'demo' })}>
        Open
      </Button>
    );
  }
  if (handle === null) return <span className="note">drop its files again; the session is kept</span>;
  const open = async () => {
    if (await mayWrite(handle)) onOpen({ kind: 'folder', name, handle });
  };
  return (
    <Button className="word-button slim" onPress={() => void open()}>
      Open
    </Button>
  );
}
