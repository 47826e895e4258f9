/**
 * What cannot be done, said so that the engineer can act: the thing (mostly a file), the reason, and what to do. Hosts show the
 * three parts and nothing else: no stack trace, exit code 2 on the command line.
 */
export class PlainError extends Error {
  constructor(
    readonly subject: string,
    readonly reason: string,
    readonly remedy: string,
  ) {
    super(`${subject}: ${reason} ${remedy}`);
    this.name = 'PlainError';
  }
}
