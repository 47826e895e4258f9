/** What the tabs of one song say to each other. */
type Said = 'hand it over' | 'handed over' | 'saved';

export interface LockListener {
  /** This tab may edit from now on, or only reads. */
  onHolds(holds: boolean): void;
  /** Before another tab takes over: everything is to be saved. */
  onHandOver(): Promise<void>;
  /** The tab that edits has saved. */
  onSaved(): void;
}

/** A tab that does not answer is asleep or hangs; its lock is taken all the same. */
const PATIENCE_ms = 5000;

/** One tab edits a song (Web Locks); the others only read, and one of them follows when it closes or hands over. */
export class SongLock {
  private channel: BroadcastChannel | null = null;
  private name = '';
  private release: (() => void) | null = null;
  private waiting = new AbortController();

  constructor(private readonly listener: LockListener) {}

  /** @returns whether this tab edits. A browser without locks lets every tab edit. */
  async hold(id: string): Promise<boolean> {
    this.letGo();
    if (!('locks' in navigator)) return true;
    this.name = `keelson song ${id}`;
    const { channel } = this.listen();
    return new Promise((answer) => {
      const asked = navigator.locks.request(this.name, { ifAvailable: true }, (lock) => {
        if (channel !== this.channel) return undefined;
        answer(lock !== null);
        if (lock !== null) return this.held();
        this.wait();
        return undefined;
      });
      this.follow(asked, channel);
    });
  }

  /** Takes the song from the tab that edits it, after that has saved. */
  async takeOver(): Promise<void> {
    const { channel } = this;
    if (channel === null || this.release !== null) return;
    await this.handedOver(channel);
    if (channel !== this.channel || this.release !== null) return;
    this.stopWaiting();
    const taken = navigator.locks.request(this.name, { steal: true }, () => {
      if (channel !== this.channel) return undefined;
      this.listener.onHolds(true);
      return this.held();
    });
    this.follow(taken, channel);
  }

  /** Tells the tabs that read that there is something new. */
  tellSaved(): void {
    if (this.release !== null) this.say('saved');
  }

  letGo(): void {
    this.stopWaiting();
    this.channel?.close();
    this.channel = null;
    this.release?.();
    this.release = null;
  }

  private listen(): { channel: BroadcastChannel } {
    const channel = new BroadcastChannel(this.name);
    this.channel = channel;
    channel.addEventListener('message', ({ data }: MessageEvent<Said>) => {
      if (data === 'saved') this.listener.onSaved();
      if (data === 'hand it over' && this.release !== null) {
        void this.listener.onHandOver().then(() => channel === this.channel && this.say('handed over'));
      }
    });
    return { channel };
  }

  private say(said: Said): void {
    this.channel?.postMessage(said);
  }

  private held(): Promise<void> {
    return new Promise((release) => (this.release = release));
  }

  /** A lock that was taken away: this tab reads from now on, and waits for its turn. */
  private follow(lock: Promise<unknown>, channel: BroadcastChannel): void {
    lock.catch(() => {
      if (channel !== this.channel || this.release === null) return;
      this.release = null;
      this.listener.onHolds(false);
      this.wait();
    });
  }

  private wait(): void {
    const { channel, name } = this;
    if (channel === null) return;
    this.waiting = new AbortController();
    const turn = navigator.locks.request(name, { signal: this.waiting.signal }, () => {
      if (channel !== this.channel) return undefined;
      this.listener.onHolds(true);
      return this.held();
    });
    this.follow(turn, channel);
  }

  private stopWaiting(): void {
    this.waiting.abort();
  }

  private handedOver(channel: BroadcastChannel): Promise<void> {
    return new Promise((done) => {
      const timer = setTimeout(done, PATIENCE_ms);
      channel.addEventListener('message', ({ data }: MessageEvent<Said>) => {
        if (data !== 'handed over') return;
        clearTimeout(timer);
        done();
      });
      this.say('hand it over');
    });
  }
}
