/** A figure of the benchmark that must not be passed, and why it stands where it does. */
export interface Limit {
  readonly name: string;
  readonly unit: string;
  readonly most: number;
  readonly because: string;
}

/** Processor seconds, so that a busy machine says little more than an idle one. */
export const LIMITS = {
  inspect_s: {
    name: 'inspect, three minutes, four stems',
    unit: 's cpu',
    most: 15,
    because: 'a fence against falling back: 13 s today on a machine shared by many; 7 s is aimed at',
  },
  wholeJob_s: {
    name: 'inspect, treat, print and prove',
    unit: 's cpu',
    most: 130,
    because: 'a fence against falling back: 114 s on a busy machine, less than the song plays',
  },
  peakMemory_MB: {
    name: 'peak memory of the whole job',
    unit: 'MB',
    most: 1100,
    because: 'a fence against falling back: 920 MB today; a song of six minutes and six stems is to stay under 1.5 GB',
  },
  everyStage_s: {
    name: 'every stage on, 30 s',
    unit: 's cpu',
    most: 7.5,
    because: 'live sound may take a quarter of the time it plays',
  },
  liveBlock_percent: {
    name: 'block of live sound, every stage on, 48 kHz',
    unit: '% of its duration',
    most: 25,
    because: 'the rest is for the browser, the monitor and what is made ready next',
  },
  liveLoop_percent: {
    name: 'the same in a loop of one beat',
    unit: '% of its duration',
    most: 25,
    because: 'a round begins from how it was begun before, so that it costs what the song costs',
  },
  worstLiveBlock_percent: {
    name: 'one block of a hundred, in a loop of one beat too',
    unit: '% of its duration',
    most: 60,
    because: 'a block that comes too late is heard as a gap; where one round fades into the next two chains sound',
  },
  worstSilentBlock_percent: {
    name: 'one block of a hundred while a jump is made ready',
    unit: '% of its duration',
    most: 75,
    because: 'nothing sounds, but a block that comes too late makes the jump wait',
  },
  longestTask_ms: {
    name: 'longest task of the page while it measures',
    unit: 'ms cpu',
    most: 50,
    because: 'a page that is busy for longer answers late (W3C, Long Tasks API)',
  },
  longestDrawing_ms: {
    name: 'longest task of the page when the findings are drawn',
    unit: 'ms cpu',
    most: 50,
    because: 'as above',
  },
} as const satisfies Record<string, Limit>;
