/** A file's name in the folder that the page lives in, without what follows `?` or `#`. */
export function nameInScope(url: string, scope: string): string {
  const { origin, pathname } = new URL(url);
  return `${origin}${pathname}`.slice(scope.length);
}

/** Whether an address is the page itself, not a file beside it. */
export function isThePage(url: string, scope: string): boolean {
  return ['', 'index.html'].includes(nameInScope(url, scope));
}
