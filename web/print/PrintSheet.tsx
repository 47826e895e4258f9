import { useMemo, useState, type FormEvent } from 'react';
import { Button } from 'react-aria-components';
import type { PrintChoices } from '../../core/job/print-song.js';
import type { Printing } from '../../core/session/session-format.js';
import type { TreatedRole } from '../../core/treatment/treatment.js';
import { nextVersion, plannedPrints, saySizes, type SongToPrint } from './planned-prints.js';
import { choicesOf, formOf, PRINT_ROLES, type PrintForm } from './print-form.js';
import './print.css';

export interface PrintSheetProps {
  readonly song: SongToPrint;
  /** What was printed last, and how. */
  readonly printing: Printing;
  readonly versions: readonly { readonly name: string }[];
  /** Whether prints land beside the stems; else they come as one zip. */
  readonly writable: boolean;
  onPrint(choices: PrintChoices): void;
}

/** What is printed, how and under which names; what that writes, where, and how large it is. */
export function PrintSheet({ song, printing, versions, writable, onPrint }: PrintSheetProps) {
  const [form, setForm] = useState<PrintForm>(() => formOf(printing));
  const chosen = choicesOf(form);
  const change = (part: Partial<PrintForm>) => setForm({ ...form, ...part });
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    if ('choices' in chosen) onPrint(chosen.choices);
  };
  return (
    <form className="print-sheet" onSubmit={submit}>
      <section>
        <Format depth={form.depth} onDepth={(depth) => change({ depth })} />
        <What {...{ form, song, change }} />
        <label className="print-line">
          Gain on every rendered file
          <input value={form.gain} onChange={({ target }) => change({ gain: target.value })} />
          dB
        </label>
        <label className="print-line">
          Names
          <input className="wide" value={form.name} onChange={({ target }) => change({ name: target.value })} />
        </label>
        <p className="note">{'{name} stands for what the file is called else: its stem, or its role.'}</p>
        {'problem' in chosen && <p role="alert">{chosen.problem}</p>}
        <Button className="word-button inked" type="submit" isDisabled={'problem' in chosen} autoFocus>
          Print
        </Button>
      </section>
      {'choices' in chosen && <Written {...{ song, versions, writable }} choices={chosen.choices} />}
    </form>
  );
}

const DEPTHS = [
  { depth: null, says: 'as the stems, losing nothing' },
  { depth: '24', says: '24-bit, dithered' },
  { depth: '16', says: '16-bit, dithered' },
  { depth: '32f', says: '32-bit float' },
] as const;

function Format({ depth, onDepth }: { readonly depth: PrintForm['depth']; onDepth(depth: PrintForm['depth']): void }) {
  return (
    <fieldset>
      <legend>
        Format <small>WAV at the song’s rate, with the chunks of its stems</small>
      </legend>
      {DEPTHS.map((choice) => (
        <label key={choice.says}>
          <input
            type="radio"
            name="print-depth"
            checked={depth === choice.depth}
            onChange={() => onDepth(choice.depth)}
          />
          {choice.says}
        </label>
      ))}
    </fieldset>
  );
}

interface WhatProps {
  readonly form: PrintForm;
  readonly song: SongToPrint;
  change(part: Partial<PrintForm>): void;
}

function What({ form, song, change }: WhatProps) {
  const { roles, singleStems } = form;
  const has = PRINT_ROLES.filter((role) => song.stems.some((stem) => stem.role === role));
  const turn = (role: TreatedRole) =>
    change({ roles: roles.includes(role) ? roles.filter((one) => one !== role) : [...roles, role] });
  return (
    <fieldset>
      <legend>
        What to print <small>a role with nothing on is copied</small>
      </legend>
      {has.map((role) => (
        <label key={role}>
          <input type="checkbox" checked={roles.includes(role)} onChange={() => turn(role)} />
          {role}
        </label>
      ))}
      <label>
        <input
          type="checkbox"
          checked={singleStems}
          onChange={({ target }) => change({ singleStems: target.checked })}
        />
        single stems beside a whole role, where its path is linear
      </label>
    </fieldset>
  );
}

interface WrittenProps extends Pick<PrintSheetProps, 'song' | 'versions' | 'writable'> {
  readonly choices: PrintChoices;
}

function Written({ song, versions, writable, choices }: WrittenProps) {
  const prints = useMemo(() => plannedPrints(song, choices), [song, choices]);
  return (
    <section>
      <h3>
        What is written <small>{`${prints.length} files, ${saySizes(prints)}`}</small>
      </h3>
      <p className="note">
        In {`Keelson prints/${nextVersion(versions)}/`}, {writable ? 'beside the stems' : 'handed to you as one zip'}.
        The same print again keeps its version. Nothing is overwritten.
      </p>
      <table>
        <tbody>
          {prints.map(({ name, format, size_bytes }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{format}</td>
              <td>{size_bytes === null ? '' : `${(size_bytes / 1e6).toFixed(1)}\u00a0MB`}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
