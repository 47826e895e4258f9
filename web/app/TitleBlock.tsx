import { Button } from 'react-aria-components';
import { KeyCap } from '../keys/KeyCap.js';
import { usePaper } from './use-paper.js';

export interface TitleBlockProps {
  readonly song: string;
  readonly sheet: string;
  readonly version: string;
  readonly saved_ms: number | null;
  /** Null where there is no song yet. */
  readonly onVersions: (() => void) | null;
  onKeys(): void;
}

/** The lower right corner of the sheet: what it is, which version, when it was saved; light and dark. */
export function TitleBlock({ song, sheet, version, saved_ms, onVersions, onKeys }: TitleBlockProps) {
  const [paper, turn] = usePaper();
  return (
    <table className="title-block" aria-label="Title block">
      <tbody>
        <tr>
          <td>Keelson</td>
          <td>
            <b>{song}</b>
          </td>
          <td>Version</td>
          <td>
            {onVersions === null ? (
              <b>{version}</b>
            ) : (
              <Button className="title-version" onPress={onVersions} aria-label={`Versions: ${version}`}>
                {version}
              </Button>
            )}
          </td>
          <td rowSpan={2}>
            <span className="title-acts">
              <Button className="word-button slim" onPress={onKeys}>
                Keys
                <KeyCap action="keys" />
              </Button>
              <Button className="word-button slim" onPress={turn}>
                {paper === 'dark' ? 'Light' : 'Dark'}
              </Button>
            </span>
          </td>
        </tr>
        <tr>
          <td>Sheet</td>
          <td>
            <b>{sheet}</b>
          </td>
          <td>Saved</td>
          <td>
            <b>{saved_ms === null ? 'not yet' : new Date(saved_ms).toLocaleTimeString()}</b>
          </td>
        </tr>
      </tbody>
    </table>
  );
}
