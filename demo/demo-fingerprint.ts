/**
 * What the demo song's samples come to: FNV-1a over the 24-bit integers of every stem, left and right, 32 bits. It changes where a
 * single bit of the song does, so that what is kept of the song can be told from what would be made now.
 */
export const DEMO_FINGERPRINT = 2603170574;
