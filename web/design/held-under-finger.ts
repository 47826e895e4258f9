/**
 * A ref for what is dragged inside a figure: a finger that begins there moves it, not the page. (`touch-action` does not reach
 * the shapes of an SVG.)
 */
export function heldUnderFinger(element: SVGElement | null): (() => void) | undefined {
  if (element === null) return undefined;
  const hold = (event: TouchEvent): void => {
    if (event.cancelable) event.preventDefault();
  };
  element.addEventListener('touchmove', hold, { passive: false });
  return () => element.removeEventListener('touchmove', hold);
}
