import { StateStore } from '../state/state-store.js';
import { isHeldByFocus, type Focused } from './held-by-focus.js';
import { declaredKey, type KeyAction } from './key-table.js';
import { actionOf, readKeptKeys, type KeptKeys } from './kept-keys.js';
import { pressedKey } from './pressed-key.js';

const KEPT = 'keelson keys';

/** The one place that listens to the keyboard: parts of the page say what they do for an action, the table says by which key. */
export class Keyboard {
  readonly kept: StateStore<KeptKeys>;
  private readonly acts = new Map<KeyAction, (() => void)[]>();
  private resting = 0;
  private focusByPointer = false;
  private pointerDown = false;

  constructor() {
    this.kept = new StateStore(readKeptKeys(readStorage()));
  }

  /** What an action does from now on; the latest that was said does it. @returns what ends it. */
  on(action: KeyAction, act: () => void): () => void {
    this.acts.set(action, [...(this.acts.get(action) ?? []), act]);
    return () =>
      this.acts.set(
        action,
        this.acts.get(action)!.filter((one) => one !== act),
      );
  }

  /** All keys of the table rest, for a part that has the keyboard to itself. @returns what wakes them. */
  rest(): () => void {
    this.resting += 1;
    let over = false;
    return () => {
      if (!over) this.resting -= 1;
      over = true;
    };
  }

  change(kept: KeptKeys): void {
    this.kept.set(kept);
    try {
      localStorage.setItem(KEPT, JSON.stringify(kept));
    } catch {
      // storage is closed to the page: the change holds until it is left
    }
  }

  /** Listens to a window. @returns what ends it. */
  listen(window: Window): () => void {
    const first = (event: KeyboardEvent) => this.hearFirst(event);
    const hear = (event: KeyboardEvent) => this.hear(event);
    const pointed = () => (this.pointerDown = true);
    const focused = () => (this.focusByPointer = this.pointerDown);
    window.addEventListener('keydown', first, true);
    window.addEventListener('keydown', hear);
    window.addEventListener('pointerdown', pointed, true);
    window.addEventListener('focusin', focused);
    return () => {
      window.removeEventListener('keydown', first, true);
      window.removeEventListener('keydown', hear);
      window.removeEventListener('pointerdown', pointed, true);
      window.removeEventListener('focusin', focused);
    };
  }

  /** Space plays after a click on a button too: it presses only what the keyboard went to. */
  private hearFirst(event: KeyboardEvent): void {
    this.pointerDown = false;
    if (!this.focusByPointer || pressedKey(event) !== 'Space') return;
    const { tag } = focusedOf(event.target);
    if (
      tag === 'BUTTON' ||
      (event.target instanceof HTMLInputElement && /^(radio|checkbox)$/.test(event.target.type))
    ) {
      this.act(event, 'Space');
      if (event.defaultPrevented) event.stopImmediatePropagation();
    }
  }

  private hear(event: KeyboardEvent): void {
    const pressed = pressedKey(event);
    if (event.defaultPrevented || event.isComposing || pressed === null) return;
    if (!isHeldByFocus(focusedOf(event.target), pressed)) this.act(event, pressed);
  }

  private act(event: KeyboardEvent, pressed: string): void {
    const action = actionOf(this.kept.read(), pressed);
    if (this.resting > 0 || action === null) return;
    const act = this.acts.get(action)?.at(-1);
    if (act === undefined) return;
    event.preventDefault();
    if (!event.repeat || declaredKey(action).repeats === true) act();
  }
}

function readStorage(): string | null {
  try {
    return localStorage.getItem(KEPT);
  } catch {
    return null;
  }
}

function focusedOf(target: EventTarget | null): Focused {
  if (!(target instanceof Element)) return { tag: '', type: '', role: null, editable: false };
  return {
    tag: target.tagName.toUpperCase(),
    type: target instanceof HTMLInputElement ? target.type : '',
    role: target.getAttribute('role'),
    editable: target instanceof HTMLElement && target.isContentEditable,
  };
}
