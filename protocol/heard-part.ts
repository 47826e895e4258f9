/** What is heard of the song by itself; `all` is every role, a lane is one of the bass's. */
export const HEARD_PARTS = ['all', 'low end', 'kick', 'bass', 'low lane', 'high lane', 'rest'] as const;
export type HeardPart = (typeof HEARD_PARTS)[number];
