/** Refs for what a button opens, so that it is seen where the page is longer than the window. */
export function beginInView(element: HTMLElement | null): void {
  element?.scrollIntoView({ block: 'start' });
}

/** Moves nothing where it is in sight already. */
export function comeIntoView(element: HTMLElement | null): void {
  element?.scrollIntoView({ block: 'nearest' });
}
