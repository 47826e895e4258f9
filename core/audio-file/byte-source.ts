/** Where bytes come from: a file on a disk, a file handle of the browser, bytes in memory. Read in blocks. */
export interface ByteSource {
  readonly size: number;
  /** Bytes offset .. offset + length; fewer only at the end of the source. */
  read(offset: number, length: number): Promise<Uint8Array>;
}

/** Where bytes go. Nothing stands under the final name before `finish`; `abandon` leaves nothing behind. */
export interface ByteSink {
  write(bytes: Uint8Array): Promise<void>;
  /** Overwrites bytes already written, for sizes in a header. */
  rewrite(offset: number, bytes: Uint8Array): Promise<void>;
  finish(): Promise<void>;
  abandon(): Promise<void>;
}
