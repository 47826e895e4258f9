import { Button } from 'react-aria-components';
import { useEffect, useState, type DragEvent } from 'react';
import { chooseFiles, chooseFolder } from '../../files/choose-source.js';
import { droppedSource } from '../../files/dropped-source.js';
import type { KeptSong } from '../../state/kept-sessions.js';
import type { SongSource } from '../../../protocol/job-messages.js';
import { RecentSongs } from './RecentSongs.js';
import './stems.css';

export interface EmptySheetProps {
  onOpen(source: SongSource): void;
  recentSongs(): Promise<readonly KeptSong[]>;
}

/** No song yet: how to open one. */
export function EmptySheet({ onOpen, recentSongs }: EmptySheetProps) {
  const [over, setOver] = useState(false);
  const [unread, setUnread] = useState(false);
  const recent = useRecent(recentSongs);
  const take = (source: SongSource | null) => {
    if (source !== null) onOpen(source);
  };
  const drop = (event: DragEvent) => {
    event.preventDefault();
    setOver(false);
    setUnread(false);
    droppedSource(event.dataTransfer).then(take, () => setUnread(true));
  };
  return (
    <main className="empty-sheet">
      <section
        className="drop"
        data-over={over}
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={drop}
      >
        <h2>Drop a folder of stems here</h2>
        <p>
          Kick, bass and the rest of the mix as WAV, AIFF or FLAC; a finished record or two if you want to compare.
          Roles are guessed from the names and the sound, and can be changed.
        </p>
        <div className="button-row">
          <Button className="word-button inked" onPress={() => void chooseFolder().then(take)}>
            Choose a folder
          </Button>
          <Button className="word-button" onPress={() => void chooseFiles().then(take)}>
            Choose files
          </Button>
        </div>
        {unread && (
          <p role="alert">
            What was dropped may not be read. Nothing was changed. Drop it again, or choose the folder with the button.
          </p>
        )}
        <p className="note">
          With a folder, the session and the prints land beside the stems where the browser can write. With files, the
          session stays in this browser and the prints come as one zip. Either way nothing leaves this machine.
        </p>
      </section>
      <section>
        <h3>Or hear what it does first</h3>
        <p>
          The demo song has a kick under a long bass, an amp track that is late, and a bass that a laptop cannot play.
        </p>
        <Button className="word-button" onPress={() => onOpen({ kind: 'demo' })}>
          Open the demo song
        </Button>
      </section>
      <section>
        <h3>Songs opened here before</h3>
        <RecentSongs songs={recent} onOpen={onOpen} />
      </section>
    </main>
  );
}

function useRecent(list: () => Promise<readonly KeptSong[]>): readonly KeptSong[] | null {
  const [songs, setSongs] = useState<readonly KeptSong[] | null>(null);
  useEffect(() => {
    let stands = true;
    list().then(
      (found) => stands && setSongs(found),
      () => stands && setSongs([]),
    );
    return () => {
      stands = false;
    };
  }, [list]);
  return songs;
}
